"""Who is not on the class list and waits: what the student types and reads, and what the coach sees and decides."""

from collections.abc import Sequence
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.words.class_list.class_list_admin import PANEL
from bot.words.core.buttons import BACK, PEOPLE
from bot.words.core.choices import choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.core.who_reads import who_reads
from bot.words.squads import sign_up
from storage.records.class_list import ClassListEntry, WaitingStudent
from storage.records.message import Button, Form, Message
from storage.records.plan import Plan

NOT_THERE = "My name is not there"
STRANGER = Button(key=key(ClassKey.LIST_STRANGER), label=NOT_THERE)
"""Stands wherever students pick their own name."""

REFUSALS = {
    Reason.WAITING_GONE: "That student waits no more. Open **Class list** again.",
    Reason.NAME_IN_USE: "**{name}** has been picked on the class list already. Let the student in under another name, "
    "or correct the list first.",
}


def waiting(found: Sequence[WaitingStudent], page: int, said: str = "") -> Message:
    """Who is not on the list and waits."""
    if not found:
        return Message(text=f"{said}\nNobody waits.".strip(), rows=((PANEL, PEOPLE, BACK),))
    choices = [choice(one.id, one.name, f"section {one.section}") for one in found]
    turn = partial(key, ClassKey.LIST_WAITING)
    listed = list_page(choices, page, "Pick a student", key(ClassKey.LIST_WAITS), turn)
    return Message(
        text=f"{said}\n**Waiting** ({len(found)}): they say that they are not on the list.".strip() + listed.line,
        rows=(*listed.select, (*listed.turns, PANEL, BACK)),
    )


def one_waiting(one: WaitingStudent, free: Sequence[ClassListEntry], page: int) -> Message:
    """One who waits, and what the coach can do; `free` are names of that section that nobody has picked."""
    choices = [choice(entry.id, entry.name) for entry in free]
    pick, turn = key(ClassKey.LIST_SAME, one.id), partial(key, ClassKey.LIST_WAITS, one.id)
    listed = list_page(choices, page, "This is somebody on the list", pick, turn)
    ways = (
        Button(key=key(ClassKey.LIST_LET_IN, one.id), label="Let in under this name", style="main"),
        Button(key=key(ClassKey.LIST_TURN_AWAY, one.id), label="Turn away", style="danger"),
        Button(key=key(ClassKey.LIST_WAITING, 0), label="Waiting"),
    )
    return Message(
        text=f"**{escape(one.name)}** of section {escape(one.section)} is not on the class list. The account is "
        f"<@{one.platform_id}>.{listed.line}",
        rows=(ways, *listed.rows),
    )


def let_in(name: str) -> str:
    """A stranger may sign up now."""
    return f"**{escape(name)}** is in, and on the list. Please tell the student to press the sign-up buttons again."


def turned_away(name: str) -> str:
    """A stranger waits no more."""
    return (
        f"**{escape(name)}** has been turned away, and what was typed is erased. I do not write to the student: please "
        "say why. The account can ask again."
    )


def somebody_waits(one: WaitingStudent) -> Message:
    """Told in the office: somebody is not on the list."""
    look = Button(key=key(ClassKey.LIST_WAITS, one.id), label="Decide", style="main")
    return Message(
        text=f"**{escape(one.name)}** of section {escape(one.section)} wants to sign up and is not on the class list.",
        rows=((look,),),
    )


def stranger_form(plan: Plan, name: str) -> Form:
    """Who is not on the list: name and section, for the coach."""
    form = sign_up.who_form(plan, name, "list")
    return form.model_copy(update={"key": key(ClassKey.LIST_ASKED), "title": NOT_THERE})


def waits(name: str) -> Message:
    """The coach decides."""
    return Message(
        text=f"Thank you, {escape(name)}. I have told your coach, who decides whether you can sign up. Press the "
        f"sign-up buttons again later. {who_reads('waiting', 'what you have typed')}"
    )
