"""What the coach puts right, asked for and undone."""

from collections.abc import Sequence

from bot.rules.core.reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import choice, list_page
from bot.words.core.class_keys import ClassKey
from bot.words.core.keys import key
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.office.helpers import PEOPLE
from bot.words.squads.squads_admin import SQUADS
from bot.words.squads.students_admin import student_choices
from storage.records.message import Button, Form, Message, SelectField, TextField
from storage.records.people import Squad, Student
from storage.records.plan import Plan

STUDENTS = Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students")

REFUSALS = {
    Reason.NOTHING_TO_CORRECT: "Name and section are what they were; nothing has changed.",
    Reason.SECTION_NEEDS_REASON: "**{squad}** is a squad of section {section}. Move the student first, or say under "
    "“Why?” why this seat is right all the same. Nothing has changed.",
    Reason.LIST_HAS_NAME: "**{name}** of section {section} is another name on the class list. If both are one student, "
    "press **Join two records**.",
    Reason.SAME_RECORD: "These are one record already. Pick another student.",
    Reason.TWO_ACCOUNTS: "**{name}** and **{other}** each have an account. Let one of the accounts go first, then join "
    "them.",
    Reason.TWO_SQUADS: "**{name}** and **{other}** are in two squads. Take one of them out first, then join them.",
    Reason.TWO_PARTS: "**{name}** and **{other}** have both handed in a part of the same piece, or are both ticked for "
    "one event. Remove one of the two first, then join them.",
    Reason.CORRECTION_GONE: "That has been undone already, or something later was put right. Open the page again.",
    Reason.CORRECTION_HANGS: "That cannot be undone by a press any more: something has been done since that hangs on "
    "it. Put it right by hand.",
}


def details_form(plan: Plan, one: Student, squad: Squad | None) -> Form:
    """Another name or section."""
    choices = tuple(choice(section, section, chosen=section == one.section) for section in plan.sections)
    why = TextField(
        key="reason",
        label="Why?",
        hint="Only where the squad is of another section. Everyone reads it with the result; no names.",
        most=200,
        required=False,
    )
    return Form(
        key=key(ClassKey.CORRECT_DETAILS, one.id),
        title="Correct name or section",
        fields=(
            TextField(key="name", label="Name", hint="As the class knows them.", value=one.name, least=2, most=40),
            SelectField(key="section", label="Section", choices=choices),
            *((why,) if squad else ()),
        ),
    )


def pick_other(one: Student, found: Sequence[tuple[Student, Squad | None]], page: int) -> Message:
    """Pick the other record of a student."""
    if not found:
        return Message(text="There is no other student.", rows=((STUDENTS, PEOPLE, BACK),))
    pick = key(ClassKey.JOIN_SURE, one.id)
    listed = list_page(
        student_choices(found), page, "Pick the other record", pick, lambda turn: key(ClassKey.JOIN_PICK, turn, one.id)
    )
    return Message(
        text=f"Which record is **{escape(one.name)}** too? It becomes part of this one.{listed.line}",
        rows=(*listed.select, (*listed.turns, STUDENTS, BACK)),
    )


def sure_to_join(stays: Student, goes: Student) -> Message:
    """Ask once before two records become one."""
    yes = Button(key=key(ClassKey.JOINED, stays.id, goes.id), label="Yes, they are one", style="danger")
    return Message(
        text=f"**{escape(goes.name)}** of section {escape(goes.section)} becomes part of **{escape(stays.name)}** of "
        f"section {escape(stays.section)}. Name and section stay those of **{escape(stays.name)}**; the account, the "
        "squad, and what was handed in or asked are taken over. One press undoes it while nothing hangs on it.",
        rows=((yes, STUDENTS),),
    )


@posted(Sign.SQUAD)
def renamed_back(name: str) -> Message:
    """Told in the room of a squad whose renaming was undone."""
    return Message(text=f"Your squad is called **{escape(name)}** again.")


def rename_undone(squad: Squad) -> Message:
    """The old name stands again."""
    return Message(text=f"The squad is called **{escape(squad.name)}** again.", rows=((SQUADS, PEOPLE, BACK),))
