"""How far the judges agree, in plain words and with caution: a page that also says how each of them marks."""

from collections.abc import Sequence
from dataclasses import dataclass

from bot.rules.analysis.agreement import (
    HARDLY,
    MANY_JUDGES,
    RELIABLE,
    Agreement,
    closeness,
    is_uncertain,
    judges_needed,
    least_agreed,
)
from bot.rules.analysis.confidence_intervals import LEVEL, Coefficient, Z
from bot.rules.analysis.judge_profiles import JudgeView
from bot.rules.analysis.judges_evened_out import Evened
from bot.rules.analysis.kendall_w import LEAST_CHANCE, Chance
from bot.rules.judging.second_look import MarkGap
from bot.rules.scoring.standings_records import Standings
from bot.words.analysis.judge_profiles import gap_block, judge_block
from bot.words.analysis.judges_evened_out import evened_block
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import STANDINGS
from bot.words.core.number_text import count
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import escape
from bot.words.scoring.result_view import ResultView
from storage.records.message import MESSAGE_LENGTH, Message

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


def agreement_block(result: ResultView, one: Agreement) -> str:
    """One rubric: a sentence, then the numbers with their intervals, then the criterion they agree on least."""
    rubric = f"**{result.rubric_name(one.event, one.measure)}**"
    if not one.judges:
        return f"{rubric}: no sheet is handed in yet."
    name = f"{rubric}: {count(one.judges, 'judge')}, {count(one.squads, 'squad')} seen by two or more"
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
    found = closeness(one)
    if found == "unknown":
        return "Whether they agree cannot be computed yet: that needs two sheets for a squad, and some difference."
    if found in ("few", "chance"):
        return "Too few judges or squads to tell whether they agree. Take the numbers below as a hint only."
    text = f"The judges agree {CLOSENESS[found]}."
    if is_uncertain(one):
        text += " With so few squads that is uncertain."
    if found in ("little", "some"):
        text += " That can also mean that the squads are close to each other."
    return text


def _by_chance(chance: Chance) -> str:
    """A p-value, with its own error where it comes from drawn orders."""
    if chance.is_tiny:
        return f"less than {100 * LEAST_CHANCE:.0f} %"
    said = f"{100 * chance.p:.0f} %"
    return (
        said if chance.exact else f"{said}, give or take {max(100 * Z * chance.error, 0.1):.1f} at the {LEVEL} % level"
    )


def _judges_needed(one: Agreement) -> str:
    """How many judges' mean would be reliable; empty on few judges or squads, or where that cannot be told."""
    needed = judges_needed(one)
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
    key = least_agreed(one)
    if key is None:
        return ""
    alpha = one.criteria[key].value or 0.0
    return f"They differ most on *{escape(result.criterion(one.event, one.measure, key))}* (alpha {alpha:.2f})."


CAUTION = (
    "-# With a handful of judges and squads all of these are uncertain: hints for a talk, never a verdict on a judge. "
    "That judges agree does not mean that they are right."
)


@dataclass(frozen=True)
class Panels:
    """Everything about the judges."""

    agreements: Sequence[Agreement]
    views: Sequence[JudgeView]
    gaps: Sequence[MarkGap]
    evened: Sequence[Evened]
    evened_standings: Standings


def judges_page(result: ResultView, found: Panels, number: int) -> Message:
    """Do the judges agree, and how does each of them mark?"""
    blocks = ["**Do the judges agree?** (private)"]
    for one in found.agreements:
        blocks.append(agreement_block(result, one))
        about = (one.event, one.measure)
        own = [view for view in found.views if (view.event, view.measure) == about]
        fitted = next((each for each in found.evened if (each.event, each.measure) == about), None)
        if own:
            blocks.append(judge_block(result, own, fitted))
    if found.agreements:
        blocks += [evened_block(result, found.evened, found.evened_standings), gap_block(result, found.gaps), CAUTION]
    else:
        blocks.append("The plan has nothing that judges mark.")
    shown = pages([block for block in blocks if block], MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    number = within(number, len(shown))
    turn = turning(ActionKey.RESULTS_JUDGES, number, len(shown))
    return Message(
        text=shown[number] + page_line(number, len(shown)), rows=(turn, (STANDINGS,)) if turn else ((STANDINGS,),)
    )
