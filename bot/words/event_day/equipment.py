"""What a squad is given for an event, by how many of it are here."""

from bot.rules.event_day.equipment import pieces
from bot.words.core.plain_text import escape
from storage.records.plan import Event


def equipment_text(event: Event, present: int) -> str:
    """`3 pairs of scissors`; empty where the plan gives nothing."""
    if event.equipment is None:
        return ""
    return f"{pieces(event.equipment, present)} {escape(event.equipment.name)}"
