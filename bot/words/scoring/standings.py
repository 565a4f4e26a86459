"""The standings in words: a line for each squad with what each event gives, and who holds the places of sections."""

from bot.rules.core.rounding import rounded
from bot.rules.scoring.standings import by_number
from bot.rules.scoring.standings_records import Row
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, exact_percent
from bot.words.core.plain_text import escape
from bot.words.plan.places_on_team import left_open_text, sections_text
from bot.words.scoring.result_view import ResultView

ROUNDED = "Numbers are rounded, so a sum can seem off in its last digit."


def rank_lines(result: ResultView) -> str:
    """The ranked squads with their totals and what each event gives."""
    if not result.standings.rows:
        return "No squad can be ranked yet."
    lines = [_rank_line(result, row) for row in result.rows]
    hidden = len(result.standings.rows) - len(result.rows)
    if hidden:
        lines.append(f"-# {count(hidden, 'squad')} not shown: hand in your own sheets for them first.")
    return "\n".join((*lines, _sum_line(result)))


def _sum_line(result: ResultView) -> str:
    """What the numbers beside a total are; rounded parts may differ from a rounded total in the last digit."""
    events = " + ".join(
        f"{escape(result.event(key).name)} ({exact_percent(share)})" for key, share in result.standings.weights.items()
    )
    return f"-# total = {events}. {ROUNDED}"


def so_far_lines(result: ResultView) -> str:
    """While squads wait: the totals of the others by number, without places, for one more mark can change the order."""
    rows = by_number(result.rows)
    lines = [f"- **{result.name(row.squad_id)}** {result.total(row)} = {sum_text(row)}" for row in rows]
    if not lines:
        return "No squad can be ranked yet."
    head = "**So far**, by squad number (no places before everybody can be ranked)"
    return "\n".join((head, *lines, _sum_line(result)))


def _rank_line(result: ResultView, row: Row) -> str:
    parts = sum_text(row)
    return f"{row.rank}\\. **{result.name(row.squad_id)}** {result.total(row)} = {parts}"


def sum_text(row: Row) -> str:
    """What each event gives to a total, such as `40.0 + 22.1 + 16.3`."""
    return " + ".join(
        rounded(event.contribution, 1) if event.contribution is not None else "excused" for event in row.events
    )


def contest_lines(result: ResultView) -> list[str]:
    """Who holds the places of which sections, and which places stay open; empty where neither is so."""
    found, lines = result.standings, []
    for contest in found.contests if result.plan.place_groups else ():
        held = result.names(squad for squad in found.placed if squad in contest.squads)
        who = listing(held) if held else "nobody yet"
        lines.append(f"- {count(contest.places, 'place')} for {sections_text(contest.sections)}: {who}")
    left = "" if found.straddle is not None else left_open_text(result.plan, len(found.placed))
    return [*lines, left] if left else lines
