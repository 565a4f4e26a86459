"""What a season leaves behind: figures, and the standings as text."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from deploy.rehearsal.cast.stage import NEWS
from deploy.rehearsal.page.standings_table import rounded_points
from deploy.rehearsal.season.expected_reminders import planned_reminders, seen_reminders
from deploy.rehearsal.season.play import Played


def season_figures(played: Played) -> dict[str, Any]:
    """Everything that was counted, as `season.json` carries it."""
    server, stage = played.server, played.stage
    reminders = seen_reminders(
        server.world, stage.coach.see(NEWS), planned_reminders(played.plan) if played.plan else {}
    )
    doubled = stage.doubled()
    books = server.request_log.figures()
    return {
        "seed": played.seed,
        "plan_sha256": stage.facts.get("plan_sha256", ""),
        "squads": len(played.standings),
        "students": len(played.cast.students) + len(played.cast.without_account),
        "judges": played.judges,
        "reminders": reminders.as_json(),
        "sheets": {"due": stage.sheets_due, "submitted": stage.sheets_done},
        "attempts": stage.attempts,
        "acknowledged": stage.acknowledged,
        "lost": len(stage.lost),
        "lost_what": stage.lost,
        "doubled": len(doubled),
        "doubled_what": doubled,
        "retried": dict(sorted(stage.retries.items())),
        "broken": len(stage.broken),
        "broken_what": stage.broken,
        "kills": played.bot.kills,
        "restarts": played.bot.restarts,
        "requests": books["requests"],
        "schema": books["schema"],
        "ack_ms": books["ack_ms"],
        "start_s": played.bot.start_s,
        "standings": played.standings,
        "wall_s": round(played.wall_s, 2),
    }


def write_figures(figures: dict[str, Any], out: Path) -> Path:
    """Write `season.json`."""
    path = out / "season.json"
    path.write_text(json.dumps(figures, indent=1, ensure_ascii=False) + "\n", "utf-8")
    return path


def write_transcript(played: Played, out: Path) -> Path:
    """Write what each person saw, an entry a line: the same, byte for byte, for the same seed."""
    path = out / "transcript.jsonl"
    lines = [json.dumps(entry.as_json(), ensure_ascii=False) for entry in played.server.transcript.entries]
    path.write_text("\n".join(lines) + "\n", "utf-8")
    return path


def standings_text(standings: list[dict[str, Any]]) -> str:
    """The standings as lines of text."""
    if not standings:
        return "No standings."
    width = max(len(row["squad"]) for row in standings)
    lines = []
    for row in standings:
        place = "-" if row["rank"] is None else str(row["rank"])
        total = f"{rounded_points(row['total']):>6}"
        events = ", ".join(f"{name} {rounded_points(value)}" for name, value in row["events"].items() if value)
        lines.append(f"{place:>3}. {row['squad']:<{width}} {total}   ({events})")
    return "\n".join(lines)
