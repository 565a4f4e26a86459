"""Students as the coach sees them: entered, all to pick from, and one with what can be done."""

from collections.abc import Mapping, Sequence
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import LONGEST, SHORTEST
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, PEOPLE, STUDENTS
from bot.words.core.choices import choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.plain_text import escape
from bot.words.squads.captain import marked
from bot.words.squads.correct_student import correct_button
from bot.words.squads.undo_correction import undo_button
from storage.records.decisions_and_corrections import Correction
from storage.records.message import (
    Button,
    Choice,
    Form,
    Message,
    Row,
    Select,
    SelectField,
    TextField,
)
from storage.records.people import Squad, Student
from storage.records.plan import Plan

REFUSALS = {
    Reason.STUDENT_GONE: "That student is no longer here. Open **People** again.",
    Reason.STUDENT_THERE: "**{name}** of {section} is here already: button **Students**. If this is somebody "
    "else, enter a name that tells the two apart.",
    Reason.IN_NO_SQUAD: "**{student}** is in no squad.",
}


def enter_form(plan: Plan) -> Form:
    """Enter a student who has no account."""
    choices = tuple(choice(one, one) for one in plan.sections)
    return Form(
        key=key(ActionKey.PEOPLE_ENTERED),
        title="Enter a student",
        fields=(
            TextField(
                key="name",
                label="Name",
                hint="As the class knows them; for students without an account.",
                least=SHORTEST,
                most=LONGEST,
            ),
            SelectField(key="section", label="Section", choices=choices),
        ),
    )


def students(found: Sequence[tuple[Student, Squad | None]], page: int) -> Message:
    """Pick a student; those without a squad come first."""
    if not found:
        return Message(text="There are no students yet.", rows=((PEOPLE, BACK),))
    turn = partial(key, ActionKey.PEOPLE_STUDENTS)
    listed = list_page(student_choices(found), page, "Pick a student", key(ActionKey.PEOPLE_STUDENT), turn)
    return Message(
        text=f"**Students** ({len(found)}){listed.line}", rows=(*listed.select, (*listed.turns, PEOPLE, BACK))
    )


def student_choices(found: Sequence[tuple[Student, Squad | None]]) -> list[Choice]:
    """Students to pick from, each with section and squad."""
    return [
        choice(one.id, one.name, f"{one.section}; {squad.name if squad else 'without a squad'}") for one, squad in found
    ]


def student(
    one: Student,
    squad: Squad | None,
    hands_in: bool = False,
    answers: Mapping[str, bool] | None = None,
    last: Correction | None = None,
) -> Message:
    """One student, and what the coach can do; `hands_in` where squads hand something in.

    `answers` are the yes/no columns of the class list, if the student is on it; `last` what was put right last.
    """
    where = f"in **{escape(squad.name)}**" if squad else "without a squad"
    text = f"{marked(f'**{escape(one.name)}**', one.id, squad)}, section {escape(one.section)}, {where}"
    if one.platform_id is None:
        text += "\n-# has no account here: you act for this student"
    text += "\n-# A squad reads in its room who joins, leaves or leads."
    if squad:
        text += (
            "\n-# **Take out of the squad** puts a mistake right. **Leaves for good** asks why, and what becomes "
            "of the part."
        )
    first = [
        Button(key=key(ActionKey.PEOPLE_PLACE, one.id, 0), label="Move")
        if squad
        else Button(key=key(ActionKey.PEOPLE_PLACE, one.id, 0), label="Place in a squad", style="main")
    ]
    if squad:
        first.append(Button(key=key(ActionKey.PEOPLE_OUT, one.id), label="Take out of the squad"))
        if squad.captain_id != one.id:
            first.append(Button(key=key(ActionKey.PEOPLE_LEAD, one.id), label="Make captain"))
        if hands_in:
            first.append(Button(key=key(ActionKey.HAND_IN_STUDENT, one.id), label="Part of the hand-in"))
    forget = Button(key=key(ActionKey.PEOPLE_FORGET, one.id), label="Erase the name", style="danger")
    let_go = Button(key=key(ActionKey.PEOPLE_LET_GO, one.id), label="Let the account go", style="danger")
    code = Button(key=key(ClassKey.LINK_CODE, one.id), label="Code for an account")
    account = (let_go,) if one.platform_id is not None else (code,)
    leaves = (Button(key=key(ClassKey.DROPOUT, one.id), label="Leaves for good"),) if squad else ()
    join = Button(key=key(ClassKey.JOIN_PICK, 0, one.id), label="Join two records")
    rows: list[Row] = [
        tuple(first),
        (correct_button(one), join, *leaves, *((undo_button(last),) if last else ())),
        (*account, forget, STUDENTS, BACK),
    ]
    if answers:
        rows.append(_answers(one, answers))
    return Message(text=text, rows=tuple(rows))


def _answers(one: Student, answers: Mapping[str, bool]) -> Select:
    """The yes/no columns of the class list, those with a yes chosen."""
    choices = tuple(choice(place, column, chosen=yes) for place, (column, yes) in enumerate(answers.items()))
    return Select(
        key=key(ClassKey.LIST_ANSWERS, one.id, shown_stamp(list(answers))),
        prompt="What has a yes?",
        choices=choices,
        least=0,
        most=len(choices),
    )
