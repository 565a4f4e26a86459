"""Walking a guided way: the season comes to where it begins, its steps are ticked off, skipped, or left."""

from __future__ import annotations

from datetime import timedelta

from deploy.rehearsal.cast.people import COACH
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.tryroom.guided_ways import WAYS, find
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.world.api_errors import Json

LONGEST = timedelta(days=90)


def shown_ways(room: TryRoom) -> list[Json]:
    """All ways, with whether they can still be begun."""
    return [
        {"key": way.key, "title": way.title, "what": way.what, "minutes": way.minutes, "past": way.past(room)}
        for way in WAYS
    ]


def shown_way(room: TryRoom, name: str) -> Json | None:
    """The way somebody is on, with what is done of it."""
    begun = room.way.get(name)
    if begun is None:
        return None
    way = find(str(begun["key"]))
    entries = room.server.transcript.since(int(begun["from"]))
    known = way.steps(room, name)
    ticks = [step.ticked(entries, name) for step in known]
    skipped = int(begun.get("skipped", 0))
    steps = [
        {
            "text": step.text,
            "done": tick,
            "skipped": not tick and number < skipped,
            "fills": dict(step.fills),
        }
        for number, (step, tick) in enumerate(zip(known, ticks, strict=True))
    ]
    ended = all(step["done"] or step["skipped"] for step in steps)
    after = next((one for one in WAYS[WAYS.index(way) + 1 :] if ended and not one.past(room)), None)
    onward = None if after is None else {"key": after.key, "title": after.title}
    return {"key": way.key, "title": way.title, "steps": steps, "then": way.then, "onward": onward}


async def begin(room: TryRoom, key: str) -> str:
    """Let the season come to where a way begins, with everybody played by the cast; returns who you are on it."""
    way = find(key)
    if way.past(room):
        raise CastMistake("The season has gone past that. Begin a new season to walk this way.")
    if way.key == "set-up":
        name = COACH
    else:
        name = way.who(room)
        room.cast_plays_all = True
        try:
            until = room.server.clock.now + LONGEST
            await room.pass_time(
                until, f"To where “{way.title}” begins …", lambda _: way.ready(room, name) or way.past(room)
            )
        finally:
            room.cast_plays_all = False
        name = way.who(room)
        if room.held and not way.ready(room, name):
            raise CastMistake("You have stopped the clock before this way begins. Press Begin once more to go on.")
        if not way.ready(room, name):
            raise CastMistake("The season did not come to where this way begins; look who waits for what.")
    room.way[name] = {"key": key, "from": len(room.server.transcript.entries)}
    room.changed()
    return name


def skip(room: TryRoom, name: str) -> None:
    """Skip the first step that is not done."""
    shown = shown_way(room, name)
    if shown is not None:
        steps = shown["steps"]
        room.way[name]["skipped"] = 1 + next(
            (number for number, step in enumerate(steps) if not step["done"] and not step["skipped"]), len(steps) - 1
        )
        room.changed()


def leave(room: TryRoom, name: str) -> None:
    """Leave the way."""
    room.way.pop(name, None)
    room.changed()
