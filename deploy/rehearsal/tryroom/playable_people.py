"""Everybody one can be in a room: what each is in a word or two, and among whom each stands in the list."""

from __future__ import annotations

from deploy.rehearsal.cast.people import COACH, SCOREKEEPER
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.tryroom.made_up_class import VISITOR
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import Person

ADULTS, UNATTACHED = "Teachers, judges and a stranger", "Students without a squad"


def everyone(room: TryRoom) -> list[Person]:
    """Everybody one can be."""
    return [person for person in room.server.world.people.values() if not person.bot]


def people(room: TryRoom) -> list[Json]:
    """The same as plain data, with what each is and among whom."""
    return [
        {"id": str(person.id), "name": person.name, "what": what(room, person), "among": among(room, person)}
        for person in everyone(room)
    ]


def what(room: TryRoom, person: Person) -> str:
    """What somebody is, in a word or two."""
    section = room.cast.students.get(person.name)
    if section is not None:
        return f"{section}, {_squad(room, person) or 'no squad yet'}"
    known = {COACH: "the coach", SCOREKEEPER: "keeps the score", VISITOR: "a stranger to the try-out"}
    return known.get(person.name, "a judge" if person.name in room.cast.judges else "another teacher")


def among(room: TryRoom, person: Person) -> str:
    """Among whom somebody stands where all people are listed: adults, the squad, or students without one."""
    if person.name not in room.cast.students:
        return ADULTS
    return _squad(room, person) or UNATTACHED


def _squad(room: TryRoom, person: Person) -> str:
    rooms = (place.name.partition(" - ")[2] for place in Phone(room.server, person).places)
    return next((squad for squad in rooms if squad), "")
