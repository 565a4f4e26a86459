"""The times of the event day as an iCalendar file (RFC 5545): all for the coach, a squad's own for its members."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime

from bot.rules.event_day.running_day import RunningDay
from bot.words.calendar.calendar_file import PRODUCT
from bot.words.event_day.slot_name import event_of, which
from storage.records.event_day import DaySlot
from storage.records.message import Attachment, Message
from storage.records.people import Squad
from storage.records.plan import Plan


def times_file(
    plan: Plan,
    day: RunningDay,
    slots: Sequence[DaySlot],
    squads: Mapping[int, Squad],
    key: str,
    stamp: datetime,
    version: int,
) -> bytes:
    """The slots as an .ics file; a later file with the same `key` replaces its entries, as `version` counts up."""
    from icalendar import Calendar, Event, vText

    calendar = Calendar()
    calendar.add("PRODID", PRODUCT)
    calendar.add("VERSION", "2.0")
    calendar.add("METHOD", "PUBLISH")
    calendar.add("X-WR-CALNAME", vText(f"{plan.name}: event day"))
    for slot in slots:
        squad, event = squads[slot.squad_id], event_of(plan, slot)
        entry = Event()
        entry.add("UID", f"{key}-{slot.squad_id}-{slot.kind}-{slot.event}-{slot.number}@tenbell")
        entry.add("DTSTAMP", stamp.astimezone(UTC).replace(microsecond=0))
        entry.add("SEQUENCE", version)
        entry.add("SUMMARY", f"{squad.number} {squad.name}: {event.name if event else slot.event}, {which(day, slot)}")
        entry.add("DTSTART", slot.begins_at.astimezone(UTC).replace(microsecond=0))
        entry.add("DTEND", slot.ends_at.astimezone(UTC).replace(microsecond=0))
        if slot.table_number is not None:
            entry.add("LOCATION", f"Table {slot.table_number}")
        calendar.add_component(entry)
    return bytes(calendar.to_ical())


def file(data: bytes) -> Message:
    """The file, privately."""
    text = "The times of the event day, for your own calendar. If they change, take a new file: it replaces this one."
    return Message(text=text, files=(Attachment(name="event-day.ics", data=data),))
