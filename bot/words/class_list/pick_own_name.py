"""Picking the own name from the class list, before anything else at sign-up; what the coach is told of taken names."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.class_list.class_list_admin import PANEL
from bot.words.class_list.not_on_class_list import STRANGER
from bot.words.core.buttons import BACK, PEOPLE, STUDENTS
from bot.words.core.choices import choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.squads import latecomers, sign_up
from storage.records.class_list import ClassListEntry
from storage.records.message import Button, Message, Row, Select
from storage.records.people import Student

REFUSALS = {
    Reason.PICK_YOURSELF: "Who are you? Pick your section, then your name from the class list.",
    Reason.KNOWN_ALREADY: "I know you as **{name}**. If that is not you, tell your coach, who can put it right.",
}


def _sections(refusal: Refusal) -> tuple[Row, ...]:
    sections = refusal.fields.get("sections")
    assert isinstance(sections, tuple)
    choices = tuple(choice(place, section) for place, section in enumerate(sections))
    return (Select(key=key(ClassKey.LIST_SECTION), prompt="Pick your section", choices=choices), (STRANGER,))


LEAD_ON = {Reason.PICK_YOURSELF: _sections}
"""Where a student leads on whom I do not know yet."""


def names(place: int, section: str, entries: Sequence[ClassListEntry], page: int) -> Message:
    """The names of a section, a page of 25 at a time; those that somebody has picked are marked."""
    if not entries:
        return Message(text=f"The list has no names in section {escape(section)}.", rows=((STRANGER,),))
    choices = [choice(one.id, one.name, "" if one.student_id is None else "picked already") for one in entries]
    pick = key(ClassKey.LIST_ME)
    listed = list_page(choices, page, "Pick your name", pick, lambda turn: key(ClassKey.LIST_NAMES, turn, place))
    return Message(
        text=f"Section {escape(section)}: which name is yours?{listed.line}",
        rows=(*listed.select, (*listed.turns, STRANGER)),
    )


def known(one: Student, waits_for_coach: bool) -> Message:
    """Now I know who you are, and what comes next; after sign-up has closed that is the coach."""
    if waits_for_coach:
        return latecomers.told_coach(one)
    return Message(
        text=f"You are **{escape(one.name)}**, section {escape(one.section)}. What would you like to do?",
        rows=((sign_up.START.model_copy(update={"style": "main"}), sign_up.JOIN, sign_up.NEED),),
    )


def picked_already(entry: ClassListEntry) -> Message:
    """Somebody else is that name; the coach knows."""
    return Message(
        text=f"**{escape(entry.name)}** has been picked by another account. I have told your coach, who will find out "
        "who is who. If you pressed the wrong name, pick again.",
        rows=((STRANGER,),),
    )


def picked_many() -> Message:
    """Several names that are taken have been picked by one account; the coach is told of no more."""
    return Message(text="You have picked several names that are taken. Please talk to your coach.")


def entered_by_coach(entry: ClassListEntry) -> Message:
    """The coach has entered that student, who has an account now."""
    return Message(
        text=f"Your coach has entered **{escape(entry.name)}** already, as a student without an account. I have told "
        "your coach that you have one now. Once your coach has linked it, **My squad** shows how it goes on.",
        rows=((STRANGER,),),
    )


def picked_twice(entry: ClassListEntry, account: str) -> Message:
    """Told in the office, once for each name and account: a second account has picked it."""
    return Message(
        text=f"The name **{escape(entry.name)}** of section {escape(entry.section)} has been picked, and now the "
        f"account shown as {escape(account)} wants it too. Nothing has changed. If the first one is not that student, "
        "open the student and press **Let the account go**: the right one then picks the name, and you confirm it.",
        rows=((STUDENTS,),),
    )


def has_account_now(entry: ClassListEntry, account: int, name: str) -> Message:
    """Told in the office, once for each name and account: a student whom the coach entered has an account."""
    link = Button(key=key(ClassKey.LIST_LINK, entry.id, account), label="Yes, link the account", style="main")
    return Message(
        text=f"The account shown as {escape(name)} says that it is **{escape(entry.name)}** of section "
        f"{escape(entry.section)}, whom you entered as a student without an account. Is that so? Once it is linked, "
        "the student sees the squad and its room.",
        rows=((link,),),
    )


def linked(name: str) -> Message:
    """The account belongs to the student now."""
    return Message(text=f"The account now belongs to **{escape(name)}**.", rows=((PANEL, PEOPLE, BACK),))
