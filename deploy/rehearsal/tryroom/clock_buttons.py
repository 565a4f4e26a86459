"""The buttons of the clock: to the next thing, the next morning, the deadline, the event day."""

from __future__ import annotations

from datetime import datetime, time, timedelta

from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.tryroom.room import TryRoom

TURN = time(7, 30)
NEXT_WITHIN = timedelta(days=14)


async def move(room: TryRoom, name: str, to: str, *, waits: bool) -> str:
    """Let time pass for whoever plays somebody, and return what there is to say of it; raises `CastMistake`.

    With `waits` it stops before, where that person is asked for something.
    """
    until, words = _target(room, to)
    began, back = room.server.clock.now, "" if room.has_power else "The bot has power again. "
    if to == "next":
        await room.pass_time(until, words, lambda since: room.news(name, since))
    else:
        await room.pass_time(until, words, lambda since: waits and room.asks(name, since))
    if room.server.clock.now >= until:
        return f"{back}{NEXT_WITHIN.days} days have passed, and nothing new came for {name}." if to == "next" else back
    return f"{back}You are asked for something." if waits and to != "next" and room.asks(name, began) else back


def _target(room: TryRoom, to: str) -> tuple[datetime, str]:
    """Where a button of the clock leads, and what is said meanwhile; raises `CastMistake`."""
    now = room.now
    if to == "next":
        return now + NEXT_WITHIN, "To the next thing …"
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
