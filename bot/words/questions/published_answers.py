"""The published answers about the rules: in news, in the pinned list of all of them, and page by page."""

from collections.abc import Sequence

from bot.rules.questions.published_answers import newest_first, oldest_first
from bot.words.core.action_keys import ActionKey
from bot.words.core.number_text import count
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.who_reads import who_reads
from bot.words.questions.squad_asks import ALL, ASK, waiting_line
from storage.records.message import MESSAGE_LENGTH, Message
from storage.records.questions import Clarification

SHORT_LINE = 90
"""Characters of a question where the pinned list has a line for each answer."""
ROOM_FOR_HEAD = 200


def shown(one: Clarification) -> str:
    """A published answer with its question."""
    corrected = " (corrected)" if one.version > 1 else ""
    change = f"\n-# What changed: {escape(one.change)}" if one.change else ""
    return f"**Rules question {one.number}**{corrected}\n> {escape(one.question)}\n{escape(one.answer)}{change}"


@posted(Sign.ANSWER)
def in_news(one: Clarification) -> Message:
    """The message to everyone with an answer, or with its correction.

    Raises:
        ValueError: it is too long to be sent.
    """
    return Message(text=shown(one), rows=((ALL, ASK),))


def pinned(answers: Sequence[Clarification], may_ask: bool) -> Message | None:
    """The list of all answers: whole while it fits, then one line each; None as long as there is none.

    `may_ask`: rules can still be asked about.
    """
    if not answers:
        return None
    head = signed(Sign.ANSWER, "**Answers about the rules** so far, the same for everyone:")
    found = oldest_first(answers)
    whole = "\n\n".join((head, *map(shown, found)))
    text = whole if len(whole) <= MESSAGE_LENGTH else _short(head, found)
    return Message(text=text, rows=((ALL, ASK) if may_ask else (ALL,),))


def _short(head: str, answers: Sequence[Clarification]) -> str:
    """One line for each answer, the newest ones where not all fit."""
    fitting = _newest_that_fit(answers, MESSAGE_LENGTH - ROOM_FOR_HEAD)
    left = len(answers) - fitting
    lines = [_line(one) for one in answers[left:]]
    earlier = [f"-# and {count(left, 'earlier one')}"] if left else []
    return "\n".join(
        (head, *earlier, *lines, f"Press **All answers** to read them. {who_reads('answer', 'what comes')}")
    )


def _newest_that_fit(answers: Sequence[Clarification], room: int) -> int:
    """How many of the newest answers have room on a list of one line each; the earlier ones are left out."""
    for fitting, one in enumerate(newest_first(answers)):
        room -= len(_line(one)) + 1
        if room < 0:
            return fitting
    return len(answers)


def _line(one: Clarification) -> str:
    question = cut(one.question, SHORT_LINE)
    corrected = " (corrected)" if one.version > 1 else ""
    return f"**{one.number}** {escape(question)}{corrected}"


def answers_page(answers: Sequence[Clarification], page: int, waiting: int) -> Message:
    """One page of all answers, for one person; `waiting` counts the questions of that person's squad."""
    blocks = list(map(shown, oldest_first(answers))) or ["No question about the rules has been answered yet."]
    found = pages(blocks, MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE - ROOM_FOR_HEAD)
    page = within(page, len(found))
    turn = turning(ActionKey.RULES_PAGE, page, len(found))
    foot = f"\n{waiting_line(waiting)}" if waiting else ""
    return Message(text=found[page] + foot + page_line(page, len(found)), rows=((*turn, ASK),))
