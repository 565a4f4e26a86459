"""How far the judges agree, and how each of them marks, in plain words and with caution."""

from collections.abc import Sequence

from bot.rules.analysis.adjusted_panels import Evened
from bot.rules.analysis.agreement import (
    CLOSE,
    EVEN,
    FEWEST_SHARED,
    HARDLY,
    MANY_JUDGES,
    MANY_SHEETS,
    WIDE,
    Agreement,
    closeness,
)
from bot.rules.analysis.estimates import LEVEL, Coefficient, Z
from bot.rules.analysis.intraclass_correlation import RELIABLE, judges_needed
from bot.rules.analysis.judge_profiles import JudgeView, MarkGap, widest_first
from bot.rules.analysis.kendall_w import Chance
from bot.rules.scoring.standings_records import Standings
from bot.words.core.number_text import exact
from bot.words.core.plain_text import count, escape, listing
from bot.words.scoring.result_view import ResultView

GAPS = 12
CLOSENESS = {
    "unknown": "cannot be computed yet",
    "few": "too few to tell",
    "chance": "too few to tell from chance",
    "close": "closely",
    "fair": "fairly well",
    "some": "partly",
    "little": "little",
}


def agreement_word(one: Agreement) -> str:
    """One plain word or two for a rubric; never a verdict on few judges or squads."""
    return CLOSENESS[closeness(one)]


def is_uncertain(one: Agreement) -> bool:
    """Whether a word about a rubric is one that another panel or other squads could well overturn."""
    interval = one.sheets.interval
    told = one.sheets.value is not None and not agreement_word(one).endswith("too few to tell")
    return told and (interval is None or interval[1] - interval[0] > WIDE)


def _name(result: ResultView, one: Agreement | JudgeView | Evened) -> str:
    event, measure = result.event(one.event), result.measure(one.event, one.measure)
    return escape(event.name if event.name == measure.name else f"{event.name}, {measure.name}")


def agreement_block(result: ResultView, one: Agreement) -> str:
    """One rubric: a sentence, then the numbers with their intervals, then the criterion they agree on least."""
    name = f"**{_name(result, one)}**: {count(one.judges, 'judge')}, {count(one.squads, 'squad')} seen by two or more"
    if not one.judges:
        return f"**{_name(result, one)}**: no sheet is handed in yet."
    lines = [name, _sentence(one)]
    if one.spread is not None and one.spread >= HARDLY:
        lines.append(f"On one squad judges differ by about {one.spread:.1f} sheet points, harsh or lenient ways aside.")
    numbers = [f"alpha {_number(one.sheets)}"]
    if one.icc is not None:
        numbers.append(f"one judge alone {_number(one.icc.icc2)}, their mean {_number(one.icc.icc2k)} (ICC)")
    if one.concordance is not None and one.chance is not None:
        numbers.append(f"common order W {float(one.concordance.w):.2f} (by chance alone: {_by_chance(one.chance)})")
    lines.append(f"-# {'; '.join(numbers)}")
    needed = _judges_needed(one)
    if needed:
        lines.append(needed)
    if not one.complete:
        lines.append("-# Not every judge saw every squad, so only alpha can be computed.")
    least = _least(result, one)
    return "\n".join((*lines, least)) if least else "\n".join(lines)


def _sentence(one: Agreement) -> str:
    word = agreement_word(one)
    if word == "cannot be computed yet":
        return "Whether they agree cannot be computed yet: that needs two sheets for a squad, and some difference."
    if word.startswith("too few to tell"):
        return "Too few judges or squads to tell whether they agree. Take the numbers below as a hint only."
    text = f"The judges agree {word}."
    if is_uncertain(one):
        text += " With so few squads that is uncertain."
    if word in ("little", "partly"):
        text += " That can also mean that the squads are close to each other."
    return text


def _by_chance(chance: Chance) -> str:
    """A p-value, with its own error where it comes from drawn orders."""
    if chance.p + Z * chance.error < 0.01:
        return "less than 1 %"
    said = f"{100 * chance.p:.0f} %"
    return (
        said if chance.exact else f"{said}, give or take {max(100 * Z * chance.error, 0.1):.1f} at the {LEVEL} % level"
    )


def _judges_needed(one: Agreement) -> str:
    """How many judges' mean would be reliable; empty on few judges or squads, or where that cannot be told."""
    single = None if one.icc is None else one.icc.icc2.value
    needed = None if single is None or one.few else judges_needed(single)
    if needed is None:
        return ""
    if needed <= one.judges:
        return f"For a mean of reliability {RELIABLE}, {count(needed, 'judge')} would be enough."
    if needed > MANY_JUDGES:
        return (
            f"For a mean of reliability {RELIABLE} it would take more than {MANY_JUDGES} judges who agree like these."
        )
    return f"For a mean of reliability {RELIABLE} it would take about {needed} judges who agree like these."


def _number(one: Coefficient) -> str:
    if one.value is None:
        return "cannot be computed"
    if one.interval is None:
        return f"{one.value:.2f}"
    return f"{one.value:.2f} ({LEVEL} % interval {one.interval[0]:.2f} to {one.interval[1]:.2f})"


def _least(result: ResultView, one: Agreement) -> str:
    known = {key: found.value for key, found in one.criteria.items() if found.value is not None}
    if len(known) < 2 or one.few:
        return ""
    key = min(known, key=lambda each: known[each] or 0.0)
    return f"They differ most on *{escape(result.criterion(one.event, one.measure, key))}* (alpha {known[key]:.2f})."


def judge_block(result: ResultView, views: Sequence[JudgeView], found: Evened | None) -> str:
    """How each judge marks under one rubric, with how sure that is."""
    head = f"**How each judge marks: {_name(result, views[0])}**"
    sure = {view.judge_id: None if found is None else found.reach(view.judge_id) for view in views}
    return "\n".join((head, *(f"- {_judge(result, view, sure[view.judge_id])}" for view in views)))


def _judge(result: ResultView, view: JudgeView, reach: float | None) -> str:
    who = result.judge(view.judge_id)
    parts = [f"{who}, {count(view.sheets, 'sheet')}: {_severity(view, reach)}"]
    if view.spread is not None:
        parts.append(f"marks spread by {view.spread:.1f}")
    if view.consistency is not None:
        parts.append(f"follows the others {view.consistency:.2f}")
    if view.single_level and view.sheets >= MANY_SHEETS:
        same = view.single_level * view.sheets
        parts.append(f"the same level throughout on {exact(same)} of {view.sheets} sheets")
    if view.halo is not None and view.halo > CLOSE and view.sheets >= MANY_SHEETS:
        parts.append(f"all criteria move together ({view.halo:.2f}): perhaps one strong impression")
    return "; ".join(parts)


def _severity(view: JudgeView, reach: float | None) -> str:
    if view.shared < FEWEST_SHARED:
        return "too few squads in common with other judges to tell harsh from lenient"
    points = float(view.severity)
    if abs(points) < HARDLY:
        return "neither harsh nor lenient"
    sure = "" if reach is None or reach < HARDLY else f" (give or take {reach:.1f} at the {LEVEL} % level)"
    way = "harsher" if points > 0 else "more lenient"
    return f"{abs(points):.1f} sheet points {way} than the average judge{sure}"


def evened_block(result: ResultView, found: Sequence[Evened], other: Standings) -> str:
    """What evening out harsh and lenient judges would do, and where squads cannot be compared at all."""
    if not found:
        return ""
    lines = ["**With harsh and lenient judges evened out**"]
    parted = [one for one in found if not one.fit.connected]
    for one in parted:
        groups = "; ".join(listing(result.names(part.squads)) for part in one.fit.parts)
        lines.append(
            f"{_name(result, one)}: no chain of common judges links these groups, so squads can be compared only "
            f"within each: {groups}. Let one judge see squads of two groups."
        )
    if parted:
        return "\n".join(lines)
    if nobody_gains(result, found):
        lines.append("Every judge saw every squad, so nobody gains or loses by a harsh judge: the means stay the same.")
        return "\n".join(lines)
    if all(one.complete for one in found):
        lines.append("Every judge saw every squad, but the plan does not take the mean of them all.")
    else:
        lines.append("Not every judge saw every squad, so who got the harsh judges matters.")
    if holders(other) == holders(result.standings):
        stays = "place stays where it is" if other.straddle is None else "tie for the last place stays"
        lines.append(f"Evened out, the {stays}.")
    elif other.placed and other.straddle is not None:
        tied = listing(result.names(other.straddle.squads))
        lines.append(f"Evened out, {tied} would tie for the last place. {RULE}")
    elif other.placed:
        lines.append(f"Evened out, it would go to {listing(result.names(other.placed))}. {RULE}")
    else:
        lines.append(f"Evened out, there would be a tie for the last place. {RULE}")
    return "\n".join(lines)


def nobody_gains(result: ResultView, found: Sequence[Evened]) -> bool:
    """Whether harsh and lenient judges move no value: all of them saw all squads, and the plan takes their mean."""
    rubrics = [(one, result.measure(one.event, one.measure)) for one in found]
    return all(one.complete and rubric.kind == "rubric" and rubric.panel in EVEN for one, rubric in rubrics)


def holders(standings: Standings) -> tuple[set[int], set[int]]:
    """Who holds the places, and who ties for the last ones, in whatever order."""
    return set(standings.placed), set() if standings.straddle is None else set(standings.straddle.squads)


RULE = "The plan's own rule decides; it was chosen before any mark existed."


def gap_block(result: ResultView, gaps: Sequence[MarkGap]) -> str:
    """Where two judges of one squad are far apart; whose marks they are is not said."""
    if not gaps:
        return "Nowhere are two judges of one squad two levels or more apart."
    lines = [
        f"- {result.name(gap.squad_id)}, {escape(result.criterion(gap.event, gap.measure, gap.criterion))}: "
        f"from {gap.lowest} to {gap.highest}"
        for gap in widest_first(gaps)[:GAPS]
    ]
    if len(gaps) > GAPS:
        lines.append(f"- and {len(gaps) - GAPS} more")
    return "**Two levels or more apart** (worth a second look)\n" + "\n".join(lines)


CAUTION = (
    "-# With a handful of judges and squads all of these are uncertain: hints for a talk, never a verdict on a judge. "
    "That judges agree does not mean that they are right."
)
