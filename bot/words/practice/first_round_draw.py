"""The lot for the first round at the practice table: what is published before it, and how anyone can recheck it."""

from collections.abc import Mapping

from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.first_round_draw import LONGEST_KEY, WAIT, opens_for, order, round_ends
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.pages import pages
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.times import clock, full, length_text
from bot.words.practice.booking import BOOK
from storage.records.message import Button, Form, Message, TextField
from storage.records.plan import Practice
from storage.records.practice import PracticeDraw

REFUSALS = {
    Reason.NO_DRAW: "The plan has no lot for the first round. Squads book as they come.",
    Reason.DRAWN_ALREADY: "The lot is drawn already; the order stands in the news.",
    Reason.DRAW_TOO_LATE: f"Nobody drew within {length_text(WAIT)}, so booking has opened for all. There is no lot any "
    "more.",
    Reason.DRAW_KEY: "Please type the key as numbers or words apart by spaces, such as 4 4 1 6 2. Letters and digits "
    "only.",
    Reason.DRAW_WAITS: "Turns can be booked once your coach has drawn who chooses first, or from <t:{opens}:F>.",
    Reason.DRAW_ORDER: "In the first round each squad has its moment, as drawn: yours is <t:{opens}:F>.",
    Reason.DRAW_ONE_EACH: "In the first round each squad books one turn. More can be booked from <t:{opens}:F>.",
}
DRAW = Button(key=key(ActionKey.PRACTICE_DRAW), label="Draw who chooses first", style="main")
METHOD = (
    "Numbers of the key are sorted, each with a point behind it, and a slash follows. Draw number i, from 0: SHA-256 "
    "of i in two bytes, the key, and i in two bytes, read as one large number; its remainder by the squads left says "
    "who is next, counted from 0 (as in RFC 3797, there with MD5)."
)


def published(practice: Practice, lot: PracticeDraw, names: Mapping[int, str]) -> list[Message]:
    """Told in the news before the key is known: the list, the source of the key, and the method."""
    lines = [f"{place}. {escape(names[squad])}" for place, squad in enumerate(lot.pool)]
    blocks = [
        signed(
            Sign.PRACTICE,
            "**Who chooses first at the practice table?** A lot decides, and anyone can check it.",
        ),
        f"The list, counted from 0:\n{chr(10).join(lines)}",
        f"The key will be: {escape(practice.key_source)}.\n-# {METHOD}",
        f"If nothing is drawn by {full(round_ends(lot))}, booking opens for all then.",
    ]
    return [Message(text=text) for text in pages(blocks)]


def drawn(lot: PracticeDraw, names: Mapping[int, str]) -> list[Message]:
    """Told in the news: the key, and the order that follows from it."""
    lines = [
        f"{place}. {escape(names.get(squad, '?'))}, from {clock(opens_for(lot, squad))}"
        for place, squad in enumerate(order(lot), start=1)
    ]
    blocks = [
        signed(Sign.PRACTICE, f"**The lot is drawn.** Key: `{lot.key}`"),
        f"Each squad may book one turn from its moment on:\n{chr(10).join(lines)}",
        f"From {full(round_ends(lot))} the usual rules count for all.",
    ]
    return [Message(text=text) for text in pages(blocks)]


@posted(Sign.PRACTICE)
def your_moment(lot: PracticeDraw, squad: int) -> Message:
    """Told in a squad's room."""
    text = f"The lot is drawn. You may book your first turn from {full(opens_for(lot, squad))}."
    return Message(text=text, rows=((BOOK,),))


def draw_form(practice: Practice) -> Form:
    """Type the key."""
    field = TextField(
        key="key",
        label="The key",
        hint=f"It was to be: {practice.key_source}"[:100],
        example="4 4 1 6 2",
        most=LONGEST_KEY,
    )
    return Form(key=key(ActionKey.PRACTICE_DRAWN), title="Draw who chooses first", fields=(field,))


DONE = "The lot is drawn. The order stands in the news, and every squad knows its moment."
