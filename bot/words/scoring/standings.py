"""The standings in words: ranks, what is missing, which ties there are, and what must be settled."""

from collections import defaultdict
from fractions import Fraction

from bot.rules.core.rounding import rounded
from bot.rules.scoring.results import Gap, Row, Standings, Tie
from bot.rules.scoring.tie_breaks import has_run_offs
from bot.words.core.number_text import exact
from bot.words.core.plain_text import count, escape, listing
from bot.words.plan.places_text import left_open_text, sections_text
from bot.words.scoring.outcome import Outcome
from bot.words.scoring.standings_picture import ROUNDED, sum_text


def rank_lines(outcome: Outcome) -> str:
    """The ranked squads with their totals and what each event gives."""
    if not outcome.standings.rows:
        return "No squad can be ranked yet."
    lines = [_rank_line(outcome, row) for row in outcome.rows]
    hidden = len(outcome.standings.rows) - len(outcome.rows)
    if hidden:
        lines.append(f"-# {count(hidden, 'squad')} not shown: hand in your own sheets for them first.")
    return "\n".join((*lines, _sum_line(outcome)))


def _sum_line(outcome: Outcome) -> str:
    """What the numbers beside a total are; rounded parts may differ from a rounded total in the last digit."""
    events = " + ".join(
        f"{escape(outcome.event(key).name)} ({exact(share * 100)} %)"
        for key, share in outcome.standings.weights.items()
    )
    return f"-# total = {events}. {ROUNDED}"


def by_number(outcome: Outcome) -> list[Row]:
    """The ranked squads by their numbers: what is shown while others wait, so that no order is suggested."""
    return sorted(outcome.rows, key=lambda row: row.number)


def so_far_lines(outcome: Outcome) -> str:
    """While squads wait: the totals of the others by number, without places, for one more mark can change the order."""
    lines = [f"- **{outcome.name(row.squad_id)}** {outcome.total(row)} = {sum_text(row)}" for row in by_number(outcome)]
    if not lines:
        return "No squad can be ranked yet."
    head = "**So far**, by squad number (no places before everybody can be ranked)"
    return "\n".join((head, *lines, _sum_line(outcome)))


def _rank_line(outcome: Outcome, row: Row) -> str:
    parts = sum_text(row)
    return f"{row.rank}\\. **{outcome.name(row.squad_id)}** {outcome.total(row)} = {parts}"


def missing_lines(outcome: Outcome) -> str:
    """What is missing, gathered by who owes it; nothing of it was counted as zero. Empty when all is there."""
    if outcome.standings.complete:
        return ""
    owed: dict[str, list[str]] = defaultdict(list)
    for squad_id, gap in outcome.standings.gaps:
        owed[gap_text(outcome, gap)].append(outcome.name(squad_id))
    lines = "\n".join(f"- {what}: {', '.join(dict.fromkeys(names))}" for what, names in owed.items())
    squads = count(len(outcome.standings.unranked), "squad")
    return f"**Missing** ({squads} not ranked; a missing mark is never a zero)\n{lines}"


def gap_text(outcome: Outcome, gap: Gap) -> str:
    """What is missing, and who owes it."""
    if gap.kind == "all_excused":
        return "Excused from every event, so nothing is left to rank"
    part = f"{escape(outcome.event(gap.event).name)}, {escape(outcome.measure(gap.event, gap.measure).name)}"
    match gap.kind:
        case "no_attempt":
            return f"{part}: no attempt recorded"
        case "too_few_attempts":
            return f"{part}: {gap.have} of {gap.need} attempts recorded"
        case "no_sheet":
            return f"{part}: no judge has a sheet"
        case "open_sheet":
            who = outcome.judge(gap.judge_id)
            return f"{who[0].upper()}{who[1:]} owes {part}"
        case "unconnected":
            apart = listing([outcome.name(squad) for squad in gap.linked])
            return f"{part}: judged apart, so no chain of common judges leads from {apart} to the other squads"
    raise AssertionError(gap.kind)


def tie_lines(outcome: Outcome) -> str:
    """The squads with exactly the same total, and what separated them. Empty when there are none."""
    lines = [f"- {_tie_text(outcome, tie)}" for tie in outcome.standings.ties]
    return "**Ties** (equal totals)\n" + "\n".join(lines) if lines else ""


def _tie_text(outcome: Outcome, tie: Tie) -> str:
    text = f"{listing(outcome.names(tie.squads))} have the same total"
    decided = ", then ".join(breaker_name(outcome, by) for by in _parting(tie))
    if not tie.left:
        return f"{text}; decided by {decided}."
    if len(tie.left) == 1 and set(tie.left[0]) == set(tie.squads):
        return f"{text}, and nothing in the plan separates them: they share place {tie.rank}."
    still = "; ".join(listing(outcome.names(group)) for group in tie.left)
    return f"{text}; decided by {decided}, but for {still}, who share a place."


def _parting(tie: Tie) -> list[str]:
    """What parted some of the squads, in the order in which it was tried; what left all as they were is not named."""
    groups = (tie.squads,), *(step.groups for step in tie.steps)
    return [step.by for before, step in zip(groups, tie.steps, strict=False) if step.groups != before]


def breaker_name(outcome: Outcome, by: str) -> str:
    """What broke a tie: `Sock run`, `Bunting, Written reasons`, `run-off 1 at Sock run`."""
    if by.startswith("run-off"):
        _, turn, about = by.split(" ")
        return f"run-off {turn} ({breaker_name(outcome, about)})"
    event_key, *rest = by.split(".")
    names = [outcome.event(event_key).name]
    if rest:
        measure = outcome.measure(event_key, rest[0])
        names.append(measure.name)
        if len(rest) > 1:
            names.append(outcome.criterion(event_key, *rest))
    return ", ".join(escape(name) for name in dict.fromkeys(names))


def place_lines(outcome: Outcome) -> str:
    """Who holds a place now, and the tie that must be settled first."""
    places = outcome.plan.places
    found = outcome.standings
    lines = []
    if found.placed:
        names = listing(outcome.names(found.placed))
        if places == 1:
            lines.append(f"**The place**: {names} holds it now.")
        else:
            verb = (
                "holds one" if len(found.placed) == 1 else "hold them" if len(found.placed) == places else "hold places"
            )
            lines.append(f"**The {count(places, 'place')}**: {names} {verb} now.")
    lines += contest_lines(outcome)
    if found.straddle is not None:
        lines.append(run_off_lines(outcome))
    return "\n".join(lines)


def contest_lines(outcome: Outcome) -> list[str]:
    """Who holds the places of which sections, and which places stay open; empty where neither is so."""
    found, lines = outcome.standings, []
    for contest in found.contests if outcome.plan.place_groups else ():
        held = outcome.names(squad for squad in found.placed if squad in contest.squads)
        who = listing(held) if held else "nobody yet"
        lines.append(f"- {count(contest.places, 'place')} for {sections_text(contest.sections)}: {who}")
    left = "" if found.straddle is not None else left_open_text(outcome.plan, len(found.placed))
    return [*lines, left] if left else lines


def run_off_lines(outcome: Outcome) -> str:
    """How to settle the tie for the last place."""
    straddle = outcome.standings.straddle
    assert straddle is not None
    equal = (
        f"{listing(outcome.names(straddle.squads))} are exactly equal, with {count(straddle.places_left, 'place')} left"
    )
    if not has_run_offs(outcome.plan):
        more = count(len(straddle.squads) - straddle.places_left, "place")
        where = "Use a plan file" if outcome.plan.place_groups else "Sections and sizes"
        return (
            f"**This tie is yours to settle.** {equal}, and nothing in this plan can be run off. Press **Plan** in the "
            f"office, then **{where}**, and give {more} more. The class reads why."
        )
    return (
        f"**A run-off is due.** {equal}. "
        "Let each of them make one more attempt at the table: /table, then the squad, then **Enter run-off**. "
        "A run-off decides this tie only and changes no total."
    )


def leader(standings: Standings) -> Row | None:
    """The first squad, where there is one alone."""
    rows = standings.rows
    return rows[0] if rows and (len(rows) == 1 or rows[1].rank != 1) else None


def gap_line(outcome: Outcome) -> str:
    """By how much the first leads the second."""
    rows = outcome.standings.rows
    first = leader(outcome.standings)
    if first is None or len(rows) < 2 or first.total is None or rows[1].total is None:
        return ""
    if {first.squad_id, rows[1].squad_id} & outcome.hidden:
        return ""
    lead = first.total - rows[1].total
    if lead == 0:
        return "First and second have the same total; a tie-break or a run-off decided."
    points = f"by {rounded(lead, 1)} points" if lead >= Fraction(1, 10) else "by less than a tenth of a point"
    return f"{outcome.name(first.squad_id)} leads {outcome.name(rows[1].squad_id)} {points}."
