"""The leaves of a season that people look at: the page of what everyone saw, and the picture the class was shown."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from deploy.rehearsal.cast.people import COACH, SCOREKEEPER
from deploy.rehearsal.page import Figure, Season, write_page
from deploy.rehearsal.season.play import Played
from deploy.rehearsal.server.transcript import Entry, Transcript


def write_output_page(played: Played, figures: Mapping[str, Any], out: Path) -> Path:
    """Write `index.html` and, if the class was shown one, `standings.png`; return the page."""
    picture = announced_picture(played.server.transcript)
    if picture is not None:
        (out / "standings.png").write_bytes(picture)
    plan = tomllib.loads(played.plan.decode())
    page = out / "index.html"
    write_page(
        page,
        Season(
            title=f"{plan['name']}: a rehearsal",
            lead=lead(played.standings),
            zone=plan["zone"],
            standings=played.standings,
            figures=first_figures(figures),
            entries=played.server.transcript.entries,
            files=played.server.transcript.pictures,
            weights=weights(plan),
            roles=roles(played.cast.students, played.cast.judges),
        ),
    )
    return page


def lead(standings: list[dict[str, Any]]) -> str:
    """Say in one breath what the page is and who won."""
    first = [str(row["squad"]) for row in standings if row["rank"] == 1]
    opening = "Nobody here is real: a made-up class went through a whole try-out, and this is what each person saw."
    if not first:
        return f"{opening} No squad has a place yet."
    verb = "comes" if len(first) == 1 else "come"
    return f"{opening} {' and '.join(first)} {verb} first; the table shows the points that made it so."


def first_figures(figures: Mapping[str, Any]) -> list[Figure]:
    """Choose the numbers worth knowing at a glance."""
    reminders, sheets, answers = figures["reminders"], figures["sheets"], figures["ack_ms"]
    shown = [
        Figure(str(figures["students"]), "students"),
        Figure(str(figures["squads"]), "squads"),
        Figure(f"{sheets['submitted']} of {sheets['due']}", "score sheets handed in"),
        Figure(f"{reminders['sent']} of {reminders['planned']}", "reminders sent"),
        Figure(str(figures["acknowledged"]), "times somebody was told it is done"),
        Figure(str(figures["lost"]), "of these lost"),
        Figure(str(figures["doubled"]), "messages doubled"),
    ]
    if answers["p99"] is not None:
        shown.append(Figure(f"{answers['p99']:.0f} ms", "99 of 100 answers came within"))
    if figures["kills"]:
        shown.append(Figure(str(figures["kills"]), "times the bot was killed on purpose"))
    return shown


def weights(plan: Mapping[str, Any]) -> dict[str, str]:
    """Say above each event's column what it counts, as the plan has it."""
    events = plan["events"]
    whole = sum(event["weight"] for event in events)
    return {event["name"]: f"counts {event['weight']} of {whole:g}" for event in events}


def roles(students: Mapping[str, str], judges: Sequence[str]) -> dict[str, str]:
    """Say beside each name what the person is: coach, scorekeeper, judge, or a student of which section."""
    return {COACH: "coach", SCOREKEEPER: "scores", **dict.fromkeys(judges, "judge"), **students}


def announced_picture(transcript: Transcript) -> bytes | None:
    """Return the last picture that was shown to everybody, if there was one."""
    everybody = max((len(entry.seen_by) for entry in transcript.entries), default=0)
    for entry in reversed(transcript.entries):
        if entry.private_to or len(entry.seen_by) < everybody:
            continue
        for key in _pictures(entry):
            return transcript.pictures[key].data
    return None


def _pictures(entry: Entry) -> list[str]:
    blocks = entry.body.get("blocks", [])
    return [block["sha256"] for block in blocks if "file" in block and block["type"].startswith("image/")]
