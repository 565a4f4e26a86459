"""Two records of one student become one: the coach picks the other record, and is asked once."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.buttons import BACK, PEOPLE, STUDENTS
from bot.words.core.choices import list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.squads.students_admin import student_choices
from storage.records.message import Button, Message
from storage.records.people import Squad, Student

REFUSALS = {
    Reason.SAME_RECORD: "These are one record already. Pick another student.",
    Reason.TWO_ACCOUNTS: "**{name}** and **{other}** each have an account. Let one of the accounts go first, then join "
    "them.",
    Reason.TWO_SQUADS: "**{name}** and **{other}** are in two squads. Take one of them out first, then join them.",
    Reason.TWO_PARTS: "**{name}** and **{other}** have both handed in a part of the same piece, or are both ticked for "
    "one event. Remove one of the two first, then join them.",
}


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
