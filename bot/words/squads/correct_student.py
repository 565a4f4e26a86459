"""The form for another name or section of a student."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import LONGEST_REASON
from bot.rules.squads.names import LONGEST, SHORTEST
from bot.words.core.choices import choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from storage.records.message import Button, Form, SelectField, TextField
from storage.records.people import Squad, Student
from storage.records.plan import Plan

CORRECT = "Correct name or section"
REFUSALS = {
    Reason.NOTHING_TO_CORRECT: "Name and section are what they were; nothing has changed.",
    Reason.SECTION_NEEDS_REASON: "**{squad}** is a squad of section {section}. Move the student first, or say under "
    "“Why?” why this seat is right all the same. Nothing has changed.",
    Reason.LIST_HAS_NAME: "**{name}** of section {section} is another name on the class list. If both are one student, "
    "press **Join two records**.",
}


def correct_button(one: Student) -> Button:
    """Leads to another name or section."""
    return Button(key=key(ClassKey.CORRECT_ASK, one.id), label=CORRECT)


def details_form(plan: Plan, one: Student, squad: Squad | None) -> Form:
    """Another name or section."""
    choices = tuple(choice(section, section, chosen=section == one.section) for section in plan.sections)
    why = TextField(
        key="reason",
        label="Why?",
        hint="Only where the squad is of another section. Everyone reads it with the result; no names.",
        most=LONGEST_REASON,
        required=False,
    )
    return Form(
        key=key(ClassKey.CORRECT_DETAILS, one.id),
        title=CORRECT,
        fields=(
            TextField(
                key="name", label="Name", hint="As the class knows them.", value=one.name, least=SHORTEST, most=LONGEST
            ),
            SelectField(key="section", label="Section", choices=choices),
            *((why,) if squad else ()),
        ),
    )
