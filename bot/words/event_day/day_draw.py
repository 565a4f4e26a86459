"""The draw of the order in which squads run: what is published before it, and how anyone can recheck it."""

from collections.abc import Mapping, Sequence

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.pages import pages
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, signed
from bot.words.practice.first_round_draw import METHOD
from storage.records.day_plan import DayPlan
from storage.records.event_day import DayDraw
from storage.records.message import MESSAGE_LENGTH, Form, Message, TextField

REFUSALS = {
    DayReason.DAY_PUBLISHED: "The list for the draw is published already; it stands in the news.",
    DayReason.DAY_DRAW_FIRST: "First the order is drawn: open **Event day** and follow its filled button.",
    DayReason.DAY_DRAWN: "The order is drawn already; it stands in the news.",
    DayReason.DAY_NO_SQUADS: "There is no squad yet among which an order could be drawn.",
}


def published(day: DayPlan, draw: DayDraw, names: Mapping[int, str]) -> list[Message]:
    """Told in the news before the key is known: the list, the source of the key, and the method."""
    lines = [f"{place}. {escape(names[squad])}" for place, squad in enumerate(draw.pool)]
    blocks = [
        "**In which order do squads run on the event day?** A draw decides, and anyone can check it.",
        f"The list, counted from 0:\n{chr(10).join(lines)}",
        f"The key will be: {escape(day.key_source)}.\n-# {METHOD}",
    ]
    return [Message(text=signed(Sign.DAY, text)) for text in pages(blocks, MESSAGE_LENGTH - 2)]


def drawn(draw: DayDraw, order: Sequence[int], names: Mapping[int, str]) -> list[Message]:
    """Told in the news: the key, and the order that follows from it."""
    lines = [f"{place}. {escape(names.get(squad, '?'))}" for place, squad in enumerate(order, start=1)]
    blocks = [
        f"**The order of the event day is drawn.** Key: `{draw.key}`",
        "\n".join(lines),
        "Each squad runs in its section's lesson, in this order as far as lessons and judges allow. Its room will show "
        "its times.",
    ]
    return [Message(text=signed(Sign.DAY, text)) for text in pages(blocks, MESSAGE_LENGTH - 2)]


def key_form(day: DayPlan) -> Form:
    """Type the key."""
    hint = f"It was to be: {day.key_source}"[:100]
    field = TextField(key="key", label="The key", hint=hint, example="4 4 1 6 2", most=200)
    return Form(key=key(DayKey.DAY_DRAWN), title="Draw the order of the event day", fields=(field,))
