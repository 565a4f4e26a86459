"""How firm the places are, in words: the sentences that a coach reads before an announcement."""

from bot.rules.analysis.confidence_intervals import LEVEL
from bot.rules.analysis.placing_bootstrap import JudgeBootstrap
from bot.rules.analysis.robustness import LEAST, Firmness, nobody_is_next
from bot.rules.analysis.weight_changes import tells_what_decides
from bot.rules.core.rounding import rounded
from bot.rules.scoring.tie_breaks import parted_by
from bot.words.analysis.placing_bootstrap import bootstrap_lines
from bot.words.analysis.robustness_picture import firm_picture
from bot.words.analysis.single_changes import trial_line
from bot.words.analysis.weight_changes import hold_line, weights_line
from bot.words.analysis.weights_picture import weights_picture
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import STANDINGS
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import exact
from bot.words.core.pages import pages
from bot.words.core.plain_text import escape
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.tie_breaks import breaker_name
from storage.records.message import Attachment, Button, Message


def closeness_line(result: ResultView, firm: Firmness) -> str:
    """Whether the last placed and the next are closer than judges differ; empty while a tie holds the last place."""
    near = firm.closeness
    if result.standings.straddle is not None:
        return ""
    if not result.standings.plain:
        return ""
    if near is None:
        return "There is no next squad to compare with." if result.standings.placed else ""
    ahead, behind = result.names((near.ahead, near.behind))
    if near.gap == 0:
        return f"{ahead} and {behind} have the same total; {_decided(result, near.ahead, near.behind)}."
    gap = f"{rounded(near.gap, 1)} points" if near.gap >= LEAST else f"less than {float(LEAST)} points"
    if near.reach is None:
        return f"{ahead} is {gap} ahead of {behind}."
    sure = give_or_take(near.reach)
    if near.close:
        return f"**Close:** {ahead} and {behind} are closer than judges differ. The gap is {gap}, {sure}."
    turned = "" if near.clear else " So the judges' chance alone could still turn it."
    return f"{ahead} is {gap} ahead of {behind}, {sure}.{turned}"


def give_or_take(reach: float) -> str:
    """How far the judges' chance moves a gap to either side."""
    points = f"{reach:.1f}" if reach >= LEAST else f"less than {float(LEAST)}"
    return f"give or take {points} for chance in the judges' marks ({LEVEL} % level)"


def _decided(result: ResultView, ahead: int, behind: int) -> str:
    """What parted two squads of the same total."""
    by = parted_by(result.standings.ties, ahead, behind)
    assert by is not None, "squads of one total that hold different ranks were parted by something"
    return f"decided by {breaker_name(result, by)}"


def paragraph(result: ResultView, firm: Firmness) -> str:
    """The one paragraph in words."""
    if nobody_is_next(firm, result.standings):
        return closeness_line(result, firm)
    lines = [closeness_line(result, firm), trial_line(result, firm, "judge"), trial_line(result, firm, "criterion")]
    lines += [trial_line(result, firm, "scale"), weights_line(result, firm)]
    return " ".join(line for line in lines if line)


def effective_line(result: ResultView, firm: Firmness) -> str:
    """What the weights really do: each event's share in the differences between the totals.

    Empty below three squads: of two there is one difference only, and its parts are told as why the one is ahead.
    """
    if firm.effective is None or not tells_what_decides(firm.effective, result.standings):
        return ""
    parts = []
    for event, share in firm.effective.items():
        nominal = exact(result.standings.weights[event] * 100)
        parts.append(f"{escape(result.event(event).name)} {rounded(share * 100, 0)} % (weight {nominal})")
    text = f"**What really decides:** the differences between the totals come from {listing(parts)}."
    if any(share < 0 for share in firm.effective.values()):
        text += " Below 0 means that an event works against the order of the totals."
    if any(event.state == "excused" for row in result.standings.rows for event in row.events):
        text += " Squads that were excused from an event are left out of this."
    return text


def firm_page(result: ResultView, firm: Firmness, drawn: JudgeBootstrap) -> Message:
    """How firm the place is: one paragraph in words, then the pictures."""
    blocks = [
        "**How firm is the place?** (private)",
        paragraph(result, firm),
        hold_line(result, firm),
        effective_line(result, firm),
        "" if nobody_is_next(firm, result.standings) else bootstrap_lines(result, drawn),
        "-# A place that hangs on one judge or one weight is close, not wrong. The plan's own rules decide.",
    ]
    pictures: list[Attachment] = []
    if firm.closeness is not None:
        pictures.append(firm_picture(result, firm, drawn))
        weights = weights_picture(result, firm)
        if weights is not None:
            pictures.append(weights)
    text = pages(["\n\n".join(block for block in blocks if block)])[0]
    judges = Button(key=key(ActionKey.RESULTS_JUDGES, 0), label="Do the judges agree?")
    return Message(text=text, files=tuple(pictures), rows=((judges, STANDINGS),))
