"""What one person sees of a room, without a browser: what is put away, what is new, and what can be broken."""

from __future__ import annotations

from datetime import datetime, timedelta

from deploy.rehearsal.cast.people import COACH
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.tryroom.screen import screen
from deploy.rehearsal.world.state import Message, Person


def answer(room: TryRoom, person: Person, at: datetime) -> Message:
    place = room.server.world.room("sign-up")
    number = 10**18 + len(place.messages)
    message = Message(number, place.id, room.server.world.bot.id, at, only_for=person.id)
    place.messages[number] = message
    return message


def test_private_answers_are_put_away_by_those_whom_nobody_plays_and_for_all_over_night(room: TryRoom) -> None:
    world, now = room.server.world, room.server.clock.now
    played, other = world.person("Ms Abara"), world.person(COACH)
    room.enter(played.name)
    old = answer(room, played, now - timedelta(days=1))
    mine, others = answer(room, played, now), answer(room, other, now)
    room.put_answers_away(now)
    assert others.id in other.wiped and mine.id not in played.wiped
    shown = {one["id"] for one in screen(room, played, world.room("sign-up"))[0]["messages"]}
    assert str(mine.id) in shown and str(old.id) not in shown


def unread(room: TryRoom, person: Person, open_room: str) -> int:
    rooms = screen(room, person, room.server.world.room(open_room))[0]["rooms"]
    return int(next(one["unread"] for one in rooms if one["name"] == "sign-up"))


def test_answers_that_were_read_or_put_away_are_not_new_again_over_night(room: TryRoom) -> None:
    world, now = room.server.world, room.server.clock.now
    person = world.person("Ms Abara")
    answer(room, person, now - timedelta(days=1))
    assert unread(room, person, "news") == 0, "what is shown no more is not counted"
    read, wiped = answer(room, person, now), answer(room, person, now)
    assert unread(room, person, "news") == 2
    person.wiped.add(wiped.id)
    assert unread(room, person, "news") == 1
    assert unread(room, person, "sign-up") == 0
    read.created -= timedelta(days=1)
    assert unread(room, person, "sign-up") == 0


def test_direct_messages_can_be_closed_by_those_whom_the_bot_writes_in_private(room: TryRoom) -> None:
    judge, student = room.cast.judges[0], next(iter(room.cast.students))
    breaks = {name: screen(room, room.server.world.person(name), None)[0]["breaks"] for name in (judge, student, COACH)}
    assert breaks[judge] == ["closed", "disk", "network", "power"]
    assert breaks[student] == breaks[COACH] == ["disk", "network", "power"]
