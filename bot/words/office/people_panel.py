"""Everybody of a try-out in short: helpers, squads, students without a squad; and where a coach goes on."""

from collections.abc import Sequence

from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, SQUADS, STUDENTS
from bot.words.core.choices import PAGE
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import first_few
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.office.helpers import names_in_role
from storage.records.message import Button, Message, PersonSelect, Row
from storage.records.people import Officer, Student


def people_panel(officers: Sequence[Officer], squads: int, seated: int, alone: Sequence[Student]) -> Message:
    """Everyone in short, and where to go on."""
    lines = [
        "**People**",
        f"Coaches: {names_in_role(officers, 'coach')}",
        f"Scorekeepers: {names_in_role(officers, 'scorekeeper')}",
        f"Typists: {names_in_role(officers, 'typist')}",
        f"{count(squads, 'squad')} with {count(seated, 'student')}",
    ]
    if alone:
        names = [f"{escape(one.name)} ({escape(one.section)})" for one in alone]
        lines.append(f"Without a squad: {first_few(names, PAGE)}")
    rows: tuple[Row, ...] = (
        (
            Button(key=key(ActionKey.PEOPLE_HELPERS), label="Coaches and helpers"),
            STUDENTS,
            SQUADS,
            Button(key=key(ClassKey.LIST_PANEL), label="Class list"),
            Button(key=key(ClassKey.PROPOSAL), label="Propose squads"),
        ),
        PersonSelect(key=key(ActionKey.PEOPLE_FORGET_ACCOUNT), prompt="Erase a person's name everywhere"),
        (
            Button(key=key(ClassKey.FIND_ASK), label="Find"),
            Button(key=key(ActionKey.PEOPLE_ENTER), label="Enter a student"),
            Button(key=key(ClassKey.KEPT), label="What is kept"),
            BACK,
        ),
    )
    return whole_message("\n".join(lines), rows)
