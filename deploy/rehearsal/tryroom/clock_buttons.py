"""Where the buttons of the clock lead: to the next thing, the next morning, the deadline, the event day."""

from __future__ import annotations

from datetime import datetime, time, timedelta

from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.tryroom.room import TryRoom

TURN = time(7, 30)


def target(room: TryRoom, to: str) -> tuple[datetime, str]:
    """Where a button of the clock leads, and what is said meanwhile; raises `CastMistake`."""
    now = room.now
    if to == "next":
        return now + timedelta(days=14), "To the next thing …"
    if to == "morning":
        today = datetime.combine(now.date(), TURN, room.zone)
        return (today if today > now else today + timedelta(days=1)), "To the next morning …"
    if to == "deadline":
        deadline = room.others.deadline()
        if deadline is None:
            raise CastMistake("No deadline is known yet: the brief comes first.")
        if deadline <= now:
            raise CastMistake("The deadline has passed.")
        return deadline, "To the deadline …"
    if to == "event":
        day = room.others.event_day()
        if day is None:
            raise CastMistake("The event day comes after the deadline, and no deadline is known yet.")
        if day <= now:
            raise CastMistake("The event day has begun.")
        return day, "To the event day …"
    raise CastMistake(f"The clock has no button {to!r}.")
