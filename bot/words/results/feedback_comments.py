"""Judges' comments for the coach, who ticks what goes out with the feedback; nobody's name stands beside them."""

from collections.abc import Collection, Sequence

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.feedback_comments import JudgeComment
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, turning, within
from bot.words.core.plain_text import escape, visible
from bot.words.results.feedback_draft import JUDGES
from bot.words.scoring.result_view import ResultView
from storage.records.message import MESSAGE_LENGTH, Button, Message, Select
from storage.records.people import Squad

COMMENTS_A_PAGE = 20
"""The most comments on a page; fewer where they are long."""
ROOM_FOR_TEXT = 500

REFUSALS = {
    ResultReason.FEEDBACK_FULL: "With these comments the feedback is too long for one message ({length} of {most} "
    "letters). Tick fewer of them, or press **Edit** and make the text shorter first.",
}


def comments(
    result: ResultView, squad: Squad, found: Sequence[JudgeComment], text: str, page: int, sent: bool = False
) -> Message:
    """What judges wrote about a squad, page by page, with what is in its feedback already ticked."""
    home = Button(key=key(ActionKey.FEEDBACK_SQUAD, squad.id), label="See the feedback", style="main")
    if not found:
        return Message(text=f"No judge wrote a comment about **{escape(squad.name)}**.", rows=((home,),))
    cuts = _cuts(result, found)
    page = within(page, len(cuts))
    shown = on_page(result, found, page)
    inside = set(text.split("\n"))
    head = (
        f"**What judges wrote about {escape(squad.name)}**: {count(len(found), 'comment')}.\n"
        "Tick what the squad should read. It goes below the feedback without a name; with **Edit** you can change it."
    )
    if sent:
        head += "\nThe squad has its feedback already; after a change you can send it once more."
    lines = [_block(result, one, number) for number, one in enumerate(shown, start=cuts[page] + 1)]
    choices = tuple(
        choice(one.place, f"{number}. {one.text}", _about(result, one), chosen=_line(one) in inside)
        for number, one in enumerate(shown, start=cuts[page] + 1)
    )
    pick = Select(
        key=key(ActionKey.FEEDBACK_TICKED, squad.id, page),
        prompt="Tick what goes out",
        choices=choices,
        least=0,
        most=len(choices),
    )
    turn = turning(ActionKey.FEEDBACK_COMMENTS, page, len(cuts), squad.id)
    return Message(
        text="\n\n".join((head, *lines)) + page_line(page, len(cuts)),
        rows=(pick, (*turn, home)),
    )


def on_page(result: ResultView, found: Sequence[JudgeComment], page: int) -> Sequence[JudgeComment]:
    """The comments that stand on a page."""
    cuts = _cuts(result, found)
    page = within(page, len(cuts))
    return found[cuts[page] : (*cuts, len(found))[page + 1]]


def with_ticked(text: str, shown: Sequence[JudgeComment], ticked: Collection[str]) -> str:
    """The feedback with the ticked ones of these comments below it, and without the others.

    A comment that the coach has changed in the text is not known again and stays as it is.
    """
    gone = {_line(one) for one in shown if one.place not in ticked}
    lines = [line for line in text.split("\n") if line not in gone]
    new = [_line(one) for one in shown if one.place in ticked and _line(one) not in lines]
    if new and JUDGES not in lines:
        lines += ["", JUDGES]
    lines += new
    if lines[-1] == JUDGES:
        lines = lines[:-1]
    return "\n".join(lines).strip()


def _line(one: JudgeComment) -> str:
    return f"• “{visible(one.text)}”"


def _about(result: ResultView, one: JudgeComment) -> str:
    event = result.event(one.event).name
    if one.criterion is None:
        return event
    return f"{event}, {result.criterion(one.event, one.measure, one.criterion)}"


def _block(result: ResultView, one: JudgeComment, number: int) -> str:
    return f"**{number}.** {escape(_about(result, one))}: “{escape(one.text)}”"


def _cuts(result: ResultView, found: Sequence[JudgeComment]) -> tuple[int, ...]:
    """With which comment each page begins."""
    cuts, used = [0], 0
    for index, one in enumerate(found):
        long = len(_block(result, one, len(found))) + 2
        full = index - cuts[-1] == COMMENTS_A_PAGE or used + long > MESSAGE_LENGTH - ROOM_FOR_TEXT - ROOM_FOR_PAGE_LINE
        if full and index > cuts[-1]:
            cuts.append(index)
            used = 0
        used += long
    return tuple(cuts)
