"""Finding a student or a squad by name."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.find_student_or_squad import LONGEST
from bot.words.core.buttons import BACK, PEOPLE
from bot.words.core.choices import PAGE, choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from storage.records.message import Choice, Form, Message, Select, TextField
from storage.records.people import Squad, Student

STUDENT, SQUAD = "#p", "#q"
"""What the number of a student, or of a squad, follows in a choice."""
REFUSALS = {
    Reason.NOBODY_FOUND: "Nobody and no squad is called “{find}”. Type a few letters of the name.",
}


def find_form() -> Form:
    """A few letters of a name."""
    name = TextField(
        key="find", label="A student or a squad", hint="A few letters of the name are enough.", most=LONGEST
    )
    return Form(key=key(ClassKey.FIND), title="Find", fields=(name,))


def choices(students: Sequence[tuple[Student, Squad | None]], squads: Sequence[Squad]) -> tuple[Choice, ...]:
    """What fits, students first."""
    found = [
        choice(f"{STUDENT}{one.id}", one.name, f"{one.section}; {squad.name if squad else 'without a squad'}")
        for one, squad in students
    ]
    found += [choice(f"{SQUAD}{one.id}", one.name, f"squad {one.number}, section {one.section}") for one in squads]
    return tuple(found)


def several(found: tuple[Choice, ...]) -> Message:
    """More than one fits; where a list cannot hold them all, how many more there are and how to get there."""
    pick = Select(key=key(ClassKey.FIND), prompt="Pick one", choices=found[:PAGE])
    more = len(found) - PAGE
    said = f" {more} more fit, too: to see them, type more letters of the name." if more > 0 else ""
    return Message(text=f"**Find**\nMore than one fits:{said}", rows=(pick, (PEOPLE, BACK)))
