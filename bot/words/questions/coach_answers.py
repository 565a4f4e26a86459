"""Questions about the rules as the coach sees them: what waits, the answer before it is said, corrections."""

from collections.abc import Sequence
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.rules.questions.coach_answers import LONGEST_ANSWER, LONGEST_CHANGE, waiting_longest_first
from bot.rules.questions.published_answers import newest_first
from bot.rules.questions.squad_asks import LONGEST, SHORTEST
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import LABEL, PAGE, choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.plain_text import cut, escape, quoted
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full
from bot.words.questions.published_answers import in_news, shown
from bot.words.questions.squad_asks import ALL
from storage.records.message import Button, Choice, Form, Message, Row, Select, TextField
from storage.records.people import Squad
from storage.records.questions import Clarification, ClarificationDraft, Question

REFUSALS = {
    Reason.QUESTION_GONE: "I cannot find that question any more.",
    Reason.QUESTION_SETTLED: "That question has been dealt with already: **/questions** shows those that wait.",
    Reason.NO_ANSWERS: "No answer has been published yet that could be used.",
    Reason.ANSWER_GONE: "I cannot find that answer.",
    Reason.ANSWER_LENGTH: "An answer needs 1 to {longest} characters.",
    Reason.ANSWER_ROOM: "Question and answer are too long for one message. Please shorten the answer.",
    Reason.ANSWER_SAME: "That is how the answer reads already. Nothing was changed.",
    Reason.CHANGE_NEEDED: "Please say in a few words what changed; everyone reads it.",
    Reason.ANSWER_NOT_KEPT: "That wording does not wait any more: it was published, or written anew. "
    "**/questions** shows what waits.",
}

PANEL = Button(key=key(ActionKey.RULES_PANEL), label="Rules questions")


def waiting(question: Question, squad: Squad, asker: str) -> Message:
    """A question in the office; `asker` is empty once the name was erased."""
    return Message(
        text=f"**A question about the rules** from {_from(squad, asker)}, {full(question.asked_at)}\n"
        f"> {escape(question.text)}",
        rows=(_ways(question),),
    )


def _from(squad: Squad, asker: str) -> str:
    name = f"squad {squad.number}, **{escape(squad.name)}**"
    return f"{escape(asker)} ({name})" if asker else name


def _ways(question: Question) -> tuple[Button, ...]:
    return (
        Button(key=answer_key(question.id), label="Answer", style="main"),
        Button(key=key(ActionKey.RULES_MERGE, question.id), label="Merge with an earlier answer"),
        Button(key=key(ActionKey.RULES_ASIDE, question.id), label="Set aside"),
    )


def settled(question: Question, squad: Squad) -> Message:
    """What stands in the office in the place of a question that waits no more."""
    if question.number is None:
        done = "was set aside and its text is deleted."
    elif question.state == "merged":
        done = f"had its answer already: **Rules question {question.number}**."
    else:
        done = f"is answered: **Rules question {question.number}**, in news."
    return Message(text=f"A question of {_from(squad, '')}, {full(question.asked_at)}, {done}")


def answer_panel(questions: Sequence[tuple[Question, Squad]], answers: Sequence[Clarification], page: int) -> Message:
    """What waits, and what was published, page by page with the newest first."""
    many = len(questions)
    text = f"**Questions about the rules**: {count(many, 'question')} {'waits' if many == 1 else 'wait'}."
    if many > PAGE:
        text += f" Here are the oldest {PAGE}."
    text += (
        "\nWhat you answer goes to everyone at once, in news, without the name of who asked. "
        "A question that you were asked in class can be answered here too."
    )
    rows: list[Row] = []
    if questions:
        choices = tuple(
            choice(question.id, _cut(question.text), _cut(f"{squad.number} {squad.name}"))
            for question, squad in waiting_longest_first(questions)[:PAGE]
        )
        rows.append(Select(key=key(ActionKey.RULES_QUESTION), prompt="Open a question that waits", choices=choices))
    turn = partial(key, ActionKey.RULES_PANEL_PAGE)
    listed = list_page(_numbered(answers), page, "Correct an answer", key(ActionKey.RULES_CORRECT), turn)
    rows += listed.rows
    rows.append((Button(key=key(ActionKey.RULES_UNASKED), label="Answer a question from class"), BACK))
    return Message(text=text + listed.line, rows=tuple(rows))


def _numbered(answers: Sequence[Clarification]) -> list[Choice]:
    """The answers to pick from, the newest first."""
    return [
        choice(one.number, _cut(f"{one.number}. {one.question}"), _cut(one.answer)) for one in newest_first(answers)
    ]


def _cut(text: str) -> str:
    line = " ".join(text.split())
    return cut(line, LABEL)


def answer_opened(question: Question, squad: Squad, asker: str) -> Message:
    """One question that waits, for the coach alone."""
    message = waiting(question, squad, asker)
    return message.model_copy(update={"rows": (*message.rows, (PANEL, BACK))})


UNASKED = 0
"""Stands for no question, where what was asked in class is answered."""


def answer_form(question_id: int, question: str, answer: str = "") -> Form:
    """The form for an answer, with what has been written so far."""
    return Form(
        key=key(ActionKey.RULES_DRAFTED, question_id), title="Answer for everyone", fields=_fields(question, answer)
    )


def unasked_form(question: str = "", answer: str = "") -> Form:
    """The form for a question that was asked in class."""
    return Form(
        key=key(ActionKey.RULES_DRAFTED, UNASKED), title="A question from class", fields=_fields(question, answer)
    )


def correction_form(number: int, question: str, answer: str, change: str = "") -> Form:
    """The form for another wording of a published answer."""
    field = TextField(
        key="change",
        label="What changes?",
        hint="Everyone reads it with the new wording.",
        value=change,
        least=1,
        most=LONGEST_CHANGE,
    )
    return Form(
        key=key(ActionKey.RULES_CORRECTED, number),
        title=f"Correct rules question {number}",
        fields=(*_fields(question, answer), field),
    )


def _fields(question: str, answer: str) -> tuple[TextField, TextField]:
    return (
        TextField(
            key="question",
            label="The question as everyone reads it",
            hint="Mend it if you like. No names, and nothing that shows who asked.",
            value=question,
            long=True,
            least=SHORTEST,
            most=LONGEST,
        ),
        TextField(
            key="answer",
            label="Your answer",
            hint="The same for every squad.",
            value=answer,
            long=True,
            least=1,
            most=LONGEST_ANSWER,
        ),
    )


def answer_key(question_id: int) -> str:
    """The key that opens the form for an answer; the first answers of its earlier wordings can be told by it."""
    return key(ActionKey.RULES_ANSWER, question_id)


def _change_key(draft: ClarificationDraft) -> str:
    if draft.question_id is not None:
        return answer_key(draft.question_id)
    return key(ActionKey.RULES_UNASKED) if draft.number is None else key(ActionKey.RULES_CORRECT, draft.number)


def answer_sure(one: Clarification, draft: ClarificationDraft, secret: bool) -> Message:
    """Ask once before an answer is said; `secret`: it names a surprise that has not started."""
    warning = "**Careful: this names the surprise, which not everybody knows yet.**\n" if secret else ""
    return Message(
        text=f"{warning}**Say this to everyone?** In news it reads:\n\n{in_news(one).text}",
        rows=(
            (
                Button(key=key(ActionKey.RULES_PUBLISH, draft.id, one.number), label="Publish", style="main"),
                Button(key=_change_key(draft), label="Change it"),
                Button(key=key(ActionKey.RULES_PANEL), label="Not yet"),
            ),
        ),
    )


def published(one: Clarification) -> Message:
    """It is on its way."""
    done = "The correction goes to news now." if one.version > 1 else "It goes to news now."
    return Message(
        text=f"**Rules question {one.number}**: {done} The pinned list of answers shows it too.", rows=((PANEL, BACK),)
    )


def pick_earlier(question: Question, answers: Sequence[Clarification], page: int) -> Message:
    """Which published answer answers this question too."""
    choices, asked = _numbered(answers), question.id
    pick = key(ActionKey.RULES_MERGE_WITH, asked)
    listed = list_page(choices, page, "Pick an answer", pick, lambda turn: key(ActionKey.RULES_MERGE_PAGE, turn, asked))
    return Message(
        text=f"> {escape(question.text)}\nWhich answer is meant?{listed.line}",
        rows=(*listed.select, (*listed.turns, PANEL)),
    )


def sure_to_merge(question: Question, one: Clarification, squad: Squad, room: Message) -> Message:
    """Ask once before a question counts as answered."""
    text = (
        f"**Does this answer it?**\n> {escape(question.text)}\n\n{shown(one)}\n\n"
        f"The room of **{escape(squad.name)}** reads:\n{quoted(room.text)}"
    )
    yes = Button(key=key(ActionKey.RULES_MERGED, question.id, one.number), label="Yes, it does", style="main")
    return whole_message(text, ((yes, PANEL),))


def merged(one: Clarification) -> Message:
    """The question counts as answered."""
    return Message(text=f"Merged with **Rules question {one.number}**.", rows=((PANEL, BACK),))


@posted(Sign.ANSWER)
def answered_before(one: Clarification) -> Message:
    """Told in the room of a squad whose question has been answered before."""
    return Message(
        text=f"Somebody has asked the same as your squad before: **Rules question {one.number}** is your answer. "
        "Everyone can read it.",
        rows=((ALL,),),
    )


def sure_to_set_aside(question: Question, squad: Squad, asker: str) -> Message:
    """Ask once before a question is deleted."""
    return Message(
        text=f"**Set this question aside?**\n> {escape(question.text)}\n"
        "Its text is deleted, and nothing is said to the squad. "
        f"If something in it matters, please talk to {_from(squad, asker)} yourself.",
        rows=((Button(key=key(ActionKey.RULES_SET_ASIDE, question.id), label="Set aside", style="danger"), PANEL),),
    )


def set_aside() -> Message:
    """The question is gone."""
    return Message(text="Set aside; the text is deleted.", rows=((PANEL, BACK),))
