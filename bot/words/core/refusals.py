"""What people read when the rules say no: why, and what to do next.

Each subject keeps its own lines under `REFUSALS`, what stands in them for something that has no name of its own under
`NAMED`, and what leads on from some of them under `LEAD_ON` of the same module; they are found here. Each reason has
exactly one line.
"""

import sys
from collections.abc import Callable, Iterator, Sequence
from enum import Enum
from functools import cache
from importlib import import_module
from itertools import chain
from pkgutil import walk_packages
from types import ModuleType

import bot.words
import bot.words.core
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.words.core.action_keys import ActionKey, AnyKey
from bot.words.core.buttons import LEAVE, MY_SHEETS, MY_SQUAD, TABLE
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import cut, escape
from storage.records.message import Button, Message, Row

REFUSALS: dict[AnyReason, str] = {
    Reason.NO_TRYOUT: "No try-out is running here yet. Ask your coach.",
    Reason.ONLY_COACH: "Only a coach can do that. If you are one, ask whoever manages this server to add you.",
    Reason.COMPETES: "You are in a squad, so you act as a student here, whatever else you may do on this server. "
    "To help to run this try-out, leave your squad first.",
    Reason.ONLY_MANAGER: "Only someone who manages this server can do that.",
    Reason.ONLY_TYPIST: "Only a coach, or somebody the coach has added for it, types in paper sheets.",
    Reason.ONLY_SCOREKEEPER: "Only a coach or a scorekeeper can do that. Ask your coach to add you.",
    Reason.ONLY_JUDGE: "Only a judge of this try-out can do that. Ask your coach to add you.",
    Reason.OUT_OF_DATE: "This message is out of date. Please use the newest one.",
    Reason.FILE_NOT_FETCHED: "I could not fetch your file from the platform. Please send it once more in a minute.",
    Reason.TYPED_DATE: "I cannot read **{typed}** as a date. Type year, month and day, such as 2027-01-11.",
    Reason.TYPED_CLOCK: "I cannot read **{typed}** as a time. Type it in 24 hours, such as 15:30.",
    Reason.TYPED_MOMENT: "I cannot read **{typed}** as date and time. Type it like this: 2027-01-11 15:30.",
}
BUTTON_OUT_OF_DATE = "This button is out of date. Please use the newest message in this room."
"""Of a button that nobody knows any more."""


Rows = tuple[Row, ...]
LeadOn = Rows | Callable[[Refusal], Rows]
"""Buttons under a refusal: always the same, or made for it."""


LEAD_ON: dict[AnyReason, LeadOn] = {
    Reason.COMPETES: ((MY_SQUAD, LEAVE),),
}
TYPE_AGAIN: dict[AnyKey, tuple[AnyKey, int]] = {
    ActionKey.SQUAD_FOUND: (ActionKey.SQUAD_START, 0),
    ActionKey.SQUAD_RENAMED: (ActionKey.SQUAD_RENAME, 0),
    ActionKey.TABLE_TYPED: (ActionKey.TABLE_FORM, 3),
}
"""By what a form sends: what opens the form once more, with so many of the arguments."""


@cache
def lines() -> dict[AnyReason, str]:
    """The line of every reason.

    Raises:
        ValueError: a reason has two lines.
    """
    found: dict[AnyReason, str] = {}
    for words in _words_in(bot.words):
        own: dict[AnyReason, str] = getattr(words, "REFUSALS", {})
        if twice := found.keys() & own.keys():
            raise ValueError(f"two lines for {sorted(twice)}")
        found |= own
    return found


@cache
def _words_of(reason: AnyReason) -> ModuleType:
    """The words with the line of a reason: mostly they came with what raised it, else more of them are imported.

    Those of every subject come first, as little comes with them.
    """
    found = chain(_words_at_hand(), _words_in(bot.words.core), _words_in(bot.words))
    return next(words for words in found if reason in getattr(words, "REFUSALS", {}))


def _words_at_hand() -> list[ModuleType]:
    return [module for name, module in sys.modules.copy().items() if name.startswith(f"{bot.words.__name__}.")]


def _words_in(folder: ModuleType) -> Iterator[ModuleType]:
    return (import_module(module.name) for module in walk_packages(folder.__path__, f"{folder.__name__}."))


LONGEST_QUOTE = 1000
"""Characters of what someone typed that a refusal shows again."""
LONGEST_GIVEN_BACK = 1700
"""The same of what could not be saved and is given back."""

AFRESH = {
    "anyone": MY_SQUAD,
    "judge": MY_SHEETS,
    "scorekeeper": TABLE,
    "typist": Button(key=key(ActionKey.PAPER_ENTER), label="Paper sheets"),
    "recorder": Button(key=key(DayKey.RUN_SHEETS), label="Run sheets"),
    "coach": Button(key=key(ActionKey.OFFICE), label="Office"),
    "manager": Button(key=key(ActionKey.OFFICE), label="Office"),
}
"""Where someone begins anew whose message is out of date, by the role that the message asked for."""


COMPOSED = frozenset(("entered", "pieces", "value", "why"))
"""Fields that are sentences of ours, in which people's words are harmless already."""


def unknown_button() -> Message:
    """The answer to a button that nobody knows any more."""
    return Message(text=BUTTON_OUT_OF_DATE)


def line(refusal: Refusal) -> str:
    """What a refusal says on a terminal, which knows no markup."""
    return _filled(refusal, lambda _, text: text)


def message(refusal: Refusal) -> Message:
    """What a refusal says."""
    return Message(text=_filled(refusal, lambda name, text: text if name in COMPOSED else escape(text)))


def _filled(refusal: Refusal, harmless: Callable[[str, str], str]) -> str:
    words = _words_of(refusal.reason)
    named: dict[object, object] = getattr(words, "NAMED", {})
    fields = [(name, named.get(one, one) if isinstance(one, Enum) else one) for name, one in refusal.fields.items()]
    shown = {
        name: harmless(name, cut(value, LONGEST_GIVEN_BACK if name in COMPOSED else LONGEST_QUOTE))
        if isinstance(value, str)
        else value
        for name, value in fields
    }
    text: str = words.REFUSALS[refusal.reason]
    return text.format(**shown)


def _once_more(asked: AnyKey, about: Sequence[str] | None) -> Rows:
    if asked not in TYPE_AGAIN or about is None:
        return ()
    opens, kept = TYPE_AGAIN[asked]
    return ((Button(key=key(opens, *about[:kept]), label="Type it again", style="main"),),)


def reply(refusal: Refusal, role: str, asked: AnyKey, about: Sequence[str] | None = ()) -> Message:
    """The private answer to a refusal; a button leads on where there is a way on, or opens the form once more.

    `asked` is what was asked for, `about` its arguments, None for such that it does not take.
    """
    if refusal.reason != Reason.OUT_OF_DATE:
        rows: LeadOn = getattr(_words_of(refusal.reason), "LEAD_ON", {}).get(refusal.reason, ())
        found = rows(refusal) if callable(rows) else rows
        return message(refusal).model_copy(update={"rows": found or _once_more(asked, about)})
    return Message(text=message(refusal).text, rows=((AFRESH[role],),))
