"""The way to the squad that comes next at the table, or to the board that says so."""

from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import cut
from storage.records.message import BUTTON_LABEL, Button
from storage.records.people import Squad

WHO_IS_NEXT = Button(key=key(DayKey.DAY_BOARD), label="Who is next")
"""The board, where there is a timetable."""


def next_button(about: str, squad: Squad) -> Button:
    """The squad that comes next at a measure."""
    return Button(
        key=key(ActionKey.TABLE_SQUAD, about, squad.id), label=cut(f"Next: {squad.number} {squad.name}", BUTTON_LABEL)
    )
