"""Coaches, scorekeepers and typists: who they are, added, dismissed."""

from collections.abc import Sequence
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.rules.office.helpers import in_order
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, PEOPLE
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from storage.records.message import Message, PersonSelect, Row
from storage.records.people import Officer

REFUSALS = {
    Reason.PROGRAMS_CANNOT: "**{name}** is a program's account, not a person. Pick a person.",
    Reason.LAST_COACH: "You are the last coach, and you do not manage this server: add another coach first.",
}


def helpers(officers: Sequence[Officer], page: int = 0, said: str = "") -> Message:
    """Coaches, scorekeepers and typists: add and dismiss them."""
    text = (
        "**Coaches and helpers**\n"
        f"Coaches may do everything here: {names_in_role(officers, 'coach')}\n"
        f"Scorekeepers record attempts at the table: {names_in_role(officers, 'scorekeeper')}\n"
        f"Typists type in score sheets and run sheets that were filled on paper: {names_in_role(officers, 'typist')}\n"
        "Squad rooms are open to the squad and to coaches only. Whoever is in a squad cannot help here.\n"
        "Whoever manages this server is a coach anyway."
    )
    rows: list[Row] = [
        PersonSelect(key=key(ActionKey.PEOPLE_COACH), prompt="Add a coach"),
        PersonSelect(key=key(ActionKey.PEOPLE_SCOREKEEPER), prompt="Add a scorekeeper"),
        PersonSelect(key=key(ActionKey.PEOPLE_TYPIST), prompt="Add a typist"),
    ]
    choices = [choice(f"{one.role}/{one.platform_id}", one.name or "?", one.role) for one in in_order(officers)]
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


def names_in_role(officers: Sequence[Officer], role: str) -> str:
    """The helpers of a role, by name."""
    return listing([escape(one.name) for one in in_order(officers) if one.role == role]) or "nobody yet"
