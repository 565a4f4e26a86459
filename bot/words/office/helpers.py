"""The people of a try-out in short, and its coaches, scorekeepers and typists: who they are, added, dismissed."""

from collections.abc import Sequence
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.pages import whole_message
from bot.words.core.plain_text import count, escape, listing
from storage.records.message import Button, Message, PersonSelect, Row
from storage.records.people import Officer, Student

PEOPLE = Button(key=key(ActionKey.PEOPLE_PANEL), label="People")
REFUSALS = {
    Reason.PROGRAMS_CANNOT: "**{name}** is a program's account, not a person. Pick a person.",
    Reason.LAST_COACH: "You are the last coach, and you do not manage this server: add another coach first.",
}


def people_panel(officers: Sequence[Officer], squads: int, seated: int, alone: Sequence[Student]) -> Message:
    """Everyone in short, and where to go on."""
    lines = [
        "**People**",
        f"Coaches: {_officers(officers, 'coach')}",
        f"Scorekeepers: {_officers(officers, 'scorekeeper')}",
        f"Typists: {_officers(officers, 'typist')}",
        f"{count(squads, 'squad')} with {count(seated, 'student')}",
    ]
    if alone:
        names = [f"{escape(one.name)} ({escape(one.section)})" for one in alone[:PAGE]]
        more = f" and {len(alone) - PAGE} more" if len(alone) > PAGE else ""
        lines.append(f"Without a squad: {', '.join(names)}{more}")
    rows: tuple[Row, ...] = (
        (
            Button(key=key(ActionKey.PEOPLE_HELPERS), label="Coaches and helpers"),
            Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students"),
            Button(key=key(ActionKey.PEOPLE_SQUADS, 0), label="Squads"),
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


def _officers(officers: Sequence[Officer], role: str) -> str:
    return listing([escape(one.name) for one in officers if one.role == role]) or "nobody yet"


def helpers(officers: Sequence[Officer], page: int = 0, said: str = "") -> Message:
    """Coaches, scorekeepers and typists: add and dismiss them."""
    text = (
        "**Coaches and helpers**\n"
        f"Coaches may do everything here: {_officers(officers, 'coach')}\n"
        f"Scorekeepers record attempts at the table: {_officers(officers, 'scorekeeper')}\n"
        f"Typists type in score sheets and run sheets that were filled on paper: {_officers(officers, 'typist')}\n"
        "Squad rooms are open to the squad and to coaches only. Whoever is in a squad cannot help here.\n"
        "Whoever manages this server is a coach anyway."
    )
    rows: list[Row] = [
        PersonSelect(key=key(ActionKey.PEOPLE_COACH), prompt="Add a coach"),
        PersonSelect(key=key(ActionKey.PEOPLE_SCOREKEEPER), prompt="Add a scorekeeper"),
        PersonSelect(key=key(ActionKey.PEOPLE_TYPIST), prompt="Add a typist"),
    ]
    choices = [choice(f"{one.role}/{one.platform_id}", one.name or "?", one.role) for one in officers]
    turn = partial(key, ActionKey.PEOPLE_HELPERS)
    listed = list_page(choices, page, "Dismiss a helper", key(ActionKey.PEOPLE_DISMISS), turn)
    rows += [*listed.select, (*listed.turns, PEOPLE, BACK)]
    return whole_message(f"{text}\n\n{said}" if said else text, rows, foot=listed.line)


def added(names: Sequence[str], role: str) -> str:
    """People have been enrolled; nobody else tells them, or where to begin."""
    who = listing([escape(name) for name in names])
    told = "I do not write to them: please tell them, and that **/my-squad** leads to their work."
    return f"{who}: {role} from now on. {told}"


def dismissed(name: str, role: str) -> str:
    """Someone is no longer a helper."""
    return f"{escape(name)} is no longer a {role}."
