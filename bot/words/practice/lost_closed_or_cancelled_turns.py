"""Practice turns that are gone: what the squad reads, and the coach who notes one as lost or closes one."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.lists_in_text import listing
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.practice.booking import BOOK
from bot.words.practice.share_and_leftover_turns import NONE_LEFT, from_when
from storage.records.message import Message, Row

REFUSALS = {
    Reason.LOST_FIRST: "Some squads have lost turns because days were closed, and choose first. You can book "
    "from <t:{opens}:F>, or as soon as they have chosen.",
    Reason.TURN_NOT_HELD: "No squad has that turn now. Open the list again: /office, button **Practice**.",
    Reason.TURN_NOT_BLOCKED: "That turn is not closed now. Open the list again: /office, button **Practice**.",
}
MOST_NAMED = 10
"""So many turns that are gone are named to a squad."""
SAID = {
    "lost": "Noted as lost through equipment. The squad's room says so, and from when it may book another turn.",
    "unlost": "The turn counts again; the squad's room says so.",
    "blocked": "The turn is closed. The room of a squad that had it says so, and from when it may book another one.",
    "opened": "The turn is free again.",
}
"""What the coach reads who has done it."""


@posted(Sign.PRACTICE)
def told_moved(begins: Sequence[datetime], first_until: datetime | None) -> Message:
    """Told in the room of a squad whose turns are gone since the plan was changed.

    `first_until` is until when it chooses first among the others; None where there are no turns any more.
    """
    one = len(begins) == 1
    which = listing([full(begin) for begin in begins[:MOST_NAMED]])
    which += "" if len(begins) <= MOST_NAMED else " and later ones"
    text = f"The plan has changed, so {'this turn' if one else 'these turns'} at the practice table "
    text += f"{'is' if one else 'are'} gone: {which}."
    if first_until is None:
        return Message(text=text)
    text += f" You may book {'another one' if one else 'others'}. Until {full(first_until)} you choose before the "
    text += "other squads."
    return Message(text=text, rows=((BOOK,),))


def can_book_another(can: datetime | bool, it: str) -> tuple[str, tuple[Row, ...]]:
    """What a squad can do that has lost a turn: book now, book from `can` on, or nothing."""
    if isinstance(can, datetime):
        return f" {it} {from_when(can)}", ()
    return (f" {it} You may book another one.", ((BOOK,),)) if can else (f" {it} {NONE_LEFT}", ())


@posted(Sign.PRACTICE)
def told_lost(begin: datetime, can: datetime | bool) -> Message:
    """Told in the room of a squad whose turn was lost through equipment; `can` as in its live message."""
    more, rows = can_book_another(can, "It does not count as one of yours.")
    return Message(text=f"Your turn on {full(begin)} was lost because something was broken.{more}", rows=rows)


@posted(Sign.PRACTICE)
def told_not_lost(begin: datetime) -> Message:
    """Told in the room of a squad whose turn was not lost after all."""
    return Message(text=f"Your turn on {full(begin)} counts after all.")


@posted(Sign.PRACTICE)
def told_blocked(begin: datetime, can: datetime | bool) -> Message:
    """Told in the room of a squad whose turn cannot take place; `can` as in its live message."""
    more, rows = can_book_another(can, "It does not count as one of yours.")
    return Message(text=f"The table cannot be used on {full(begin)}.{more}", rows=rows)
