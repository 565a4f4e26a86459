"""The buttons of the clock: to the next thing, the next morning, the deadline, the event day."""

from __future__ import annotations

from datetime import datetime, time, timedelta

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.world.state import DIRECT, Message, Room

NEXT_MORNING = time(7, 30)
"""The hour to which the button for the next morning leads."""
NEXT_WITHIN = timedelta(days=14)


async def move(room: TryRoom, name: str, to: str, *, waits: bool) -> str:
    """Let time pass for whoever plays somebody, and return what there is to say of it; raises `CastMistake`.

    With `waits` it stops before, where that person is asked for something.
    """
    until, words = _target(room, to)
    began, back = room.server.clock.now, "" if room.has_power else "The bot has power again. "
    if to == "next":
        await room.pass_time(until, words, lambda since: _has_news(room, name, since))
    else:
        await room.pass_time(until, words, lambda since: waits and _is_asked(room, name, since))
    if room.server.clock.now >= until:
        return f"{back}{NEXT_WITHIN.days} days have passed, and nothing new came for {name}." if to == "next" else back
    return f"{back}You are asked for something." if waits and to != "next" and _is_asked(room, name, began) else back


def _target(room: TryRoom, to: str) -> tuple[datetime, str]:
    """Where a button of the clock leads, and what is said meanwhile; raises `CastMistake`."""
    now = room.now
    if to == "next":
        return now + NEXT_WITHIN, "To the next thing …"
    if to == "morning":
        today = datetime.combine(now.date(), NEXT_MORNING, room.zone)
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


def _is_asked(room: TryRoom, name: str, since: datetime) -> bool:
    """Whether somebody has been asked for something since then: in private, in a small room, or by name."""
    phone = Phone(room.server, name)
    for place in phone.places:
        small = place.kind == DIRECT or place.is_thread or place.overwrites
        for message in _new_in(room, place, since):
            rung = phone.person.id in message.mentions
            if rung or (small and any(shown.labels for shown in [phone.shown(message)])):
                return True
    return False


def _has_news(room: TryRoom, name: str, since: datetime) -> bool:
    """Whether anything new stands on somebody's phone since then."""
    return any(_new_in(room, place, since) for place in Phone(room.server, name).places)


def _new_in(room: TryRoom, place: Room, since: datetime) -> list[Message]:
    found = []
    for message in reversed(place.messages.values()):
        if message.created <= since:
            break
        if message.author_id == room.server.world.bot.id and not message.deleted and message.only_for is None:
            found.append(message)
    return found
