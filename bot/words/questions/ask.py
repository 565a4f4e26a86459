"""Questions about the rules as everyone sees them: the form, the published answers, the pinned list of all of them."""

from collections.abc import Sequence

from bot.rules.core.reasons import Reason
from bot.rules.questions.rule_questions import LONGEST, SHORTEST
from bot.words.core.action_keys import ActionKey
from bot.words.core.keys import key
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import count, cut, escape
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.who_reads import who_reads
from storage.records.message import MESSAGE_LENGTH, Button, Form, Message, TextField
from storage.records.questions import Clarification

REFUSALS = {
    Reason.QUESTIONS_EARLY: "There is nothing to ask about yet: questions about the rules begin with the brief.",
    Reason.QUESTIONS_OVER: "Judging is closed, so the rules are no longer asked about here. Please talk to your coach.",
    Reason.QUESTIONS_SQUADS: "Only members of a squad can ask here. If you are in none, please ask your coach in "
    "person.",
    Reason.QUESTIONS_FULL: "{most} questions of your squad wait for an answer already. "
    "Once one of them is answered, you can ask the next.",
    Reason.QUESTION_WAITS: "Your squad has asked just that already. Your coach has the question; the answer comes in "
    "news.",
    Reason.QUESTION_LENGTH: "A question needs {shortest} to {longest} characters. Please try again.",
}

ASK = Button(key=key(ActionKey.RULES_ASK), label="Ask about the rules")
ALL = Button(key=key(ActionKey.RULES_ANSWERS), label="All answers")

SHORT_LINE = 90
ROOM_FOR_HEAD = 200


def ask_form() -> Form:
    """The form for a question."""
    field = TextField(
        key="question",
        label="Your question about the rules",
        hint=f"{who_reads('question', 'it')} Later it is published with the answer, without your name.",
        example="No names or private matters here. Worries: talk to your coach or an adult you trust.",
        long=True,
        least=SHORTEST,
        most=LONGEST,
    )
    return Form(key=key(ActionKey.RULES_ASKED), title="Ask about the rules", fields=(field,))


def asked(waiting: int) -> Message:
    """The coach has it; `waiting` counts all questions of the squad that wait."""
    return Message(
        text="**Your coach has the question.** The answer comes in news for everyone at once, without your name.\n"
        f"{_waiting_line(waiting)}",
        rows=((ALL,),),
    )


def _waiting_line(waiting: int) -> str:
    verb = "waits" if waiting == 1 else "wait"
    return f"-# {count(waiting, 'question')} of your squad {verb} for an answer."


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


def pinned(answers: Sequence[Clarification]) -> Message | None:
    """The list of all answers: whole while it fits, then one line each; None as long as there is none."""
    if not answers:
        return None
    head = signed(Sign.ANSWER, "**Answers about the rules** so far, the same for everyone:")
    whole = "\n\n".join((head, *map(shown, answers)))
    return Message(text=whole if len(whole) <= MESSAGE_LENGTH else _short(head, answers), rows=((ALL, ASK),))


def _short(head: str, answers: Sequence[Clarification]) -> str:
    """One line for each answer, the newest ones where not all fit."""
    lines: list[str] = []
    room = MESSAGE_LENGTH - ROOM_FOR_HEAD
    for one in reversed(answers):
        line = _line(one)
        if len(line) + 1 > room:
            break
        room -= len(line) + 1
        lines.insert(0, line)
    left = len(answers) - len(lines)
    earlier = [f"-# and {count(left, 'earlier one')}"] if left else []
    return "\n".join(
        (head, *earlier, *lines, f"Press **All answers** to read them. {who_reads('answer', 'what comes')}")
    )


def _line(one: Clarification) -> str:
    question = cut(one.question, SHORT_LINE)
    corrected = " (corrected)" if one.version > 1 else ""
    return f"**{one.number}** {escape(question)}{corrected}"


def ask_opened(answers: Sequence[Clarification], page: int, waiting: int) -> Message:
    """One page of all answers, for one person; `waiting` counts the questions of that person's squad."""
    blocks = list(map(shown, answers)) or ["No question about the rules has been answered yet."]
    found = pages(blocks, MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE - ROOM_FOR_HEAD)
    page = within(page, len(found))
    turn = turning(ActionKey.RULES_PAGE, page, len(found))
    foot = f"\n{_waiting_line(waiting)}" if waiting else ""
    return Message(text=found[page] + foot + page_line(page, len(found)), rows=((*turn, ASK),))


@posted(Sign.ANSWER)
def answered_before(one: Clarification) -> Message:
    """Told in the room of a squad whose question has been answered before."""
    return Message(
        text=f"A question of your squad has an answer already: **Rules question {one.number}**, "
        "for everyone, in news and here:",
        rows=((ALL,),),
    )
