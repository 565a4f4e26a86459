"""What is missing before a result is complete: the first line that says so, and who owes it."""

from collections import defaultdict

from bot.rules.scoring import missing_scores as rules
from bot.rules.scoring.standings_records import Gap
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.scoring.result_view import ResultView

NAMED_JUDGES = 3
"""So many judges are named that owe sheets; of more only how many."""


def headline(result: ResultView) -> str:
    """The first line of everything about the result: complete, or how many squads wait and for what."""
    found = result.standings
    squads = len(found.rows) + len(found.unranked)
    if not squads:
        return "**NOT COMPLETE**: no squad takes part yet."
    if found.complete:
        everybody = f"all {squads} squads" if squads > 1 else "the only squad"
        return f"**Complete**: {everybody} can be ranked; nothing is missing."
    return f"**NOT COMPLETE**: {len(found.unranked)} of {count(squads, 'squad')} cannot be ranked; {_owed(result)}."


def _owed(result: ResultView) -> str:
    gaps = [gap for _, gap in result.standings.gaps]
    owing = owing_judges(result)
    parts = [f"judge {number} owes {count(sheets, 'sheet')}" for number, sheets in owing[:NAMED_JUDGES]]
    more = owing[NAMED_JUDGES:]
    if more:
        sheets = count(sum(sheets for _, sheets in more), "sheet")
        parts.append(f"{count(len(more), 'more judge')} {'owes' if len(more) == 1 else 'owe'} {sheets}")
    for kinds, one, several in (
        (rules.ATTEMPTS, "1 entry is missing at the table", "{} entries are missing at the table"),
        (("no_sheet",), "1 sheet has no judge", "{} sheets have no judge"),
        (("unconnected",), "1 panel was judged apart", "{} panels were judged apart"),
        (("all_excused",), "1 squad is excused from everything", "{} squads are excused from everything"),
    ):
        number = sum(gap.kind in kinds for gap in gaps)
        if number:
            parts.append(one if number == 1 else several.format(number))
    return listing(parts)


def owing_judges(result: ResultView) -> list[tuple[int, int]]:
    """Number of each judge who owes a sheet that a squad waits for, with how many, in order of the numbers."""
    return rules.owing_judges(result.standings, {one: judge.number for one, judge in result.judges.items()})


def missing_lines(result: ResultView) -> str:
    """What is missing, gathered by who owes it; nothing of it was counted as zero. Empty when all is there."""
    if result.standings.complete:
        return ""
    owed: dict[str, list[str]] = defaultdict(list)
    for squad_id, gap in result.standings.gaps:
        owed[gap_text(result, gap)].append(result.name(squad_id))
    lines = "\n".join(f"- {what}: {', '.join(dict.fromkeys(names))}" for what, names in owed.items())
    squads = count(len(result.standings.unranked), "squad")
    return f"**Missing** ({squads} not ranked; a missing mark is never a zero)\n{lines}"


def gap_text(result: ResultView, gap: Gap) -> str:
    """What is missing, and who owes it."""
    if gap.kind == "all_excused":
        return "Excused from every event, so nothing is left to rank"
    part = f"{escape(result.event(gap.event).name)}, {escape(result.measure(gap.event, gap.measure).name)}"
    match gap.kind:
        case "no_attempt":
            return f"{part}: no attempt recorded"
        case "too_few_attempts":
            return f"{part}: {gap.have} of {gap.need} attempts recorded"
        case "no_sheet":
            return f"{part}: no judge has a sheet"
        case "open_sheet":
            who = result.judge(gap.judge_id)
            return f"{who[0].upper()}{who[1:]} owes {part}"
        case "unconnected":
            apart = listing([result.name(squad) for squad in gap.linked])
            return f"{part}: judged apart, so no chain of common judges leads from {apart} to the other squads"
    raise AssertionError(gap.kind)


def waiting_line(result: ResultView) -> str:
    """The squads that cannot be ranked yet, by number."""
    names = [result.name(row.squad_id) for row in result.standings.unranked]
    return f"**Waiting** ({len(names)}): {', '.join(names)}" if names else ""
