"""Guided ways without a browser: what ticks a step off, what comes after the last one, and what is put away."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from deploy.rehearsal.cast.people import COACH, SCOREKEEPER
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.tryroom.guided_way_progress import shown_way
from deploy.rehearsal.tryroom.guided_ways import WAYS, find
from deploy.rehearsal.tryroom.open_room import open_room
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.tryroom.screen import screen
from deploy.rehearsal.world.state import File, Message, Person
from tests.rehearsal.wire import button, row

PLAN = b"""
[[events]]
name = "Posters"
[[events.measures]]
kind = "share"
[[events]]
name = "Ball lift"
[[events.measures]]
name = "Balls on the shelf"
"""


@pytest.fixture
def room(tmp_path: Path) -> Iterator[TryRoom]:
    """A room whose bot was never started."""
    made = open_room(tmp_path / "room", 1, None)
    made.stopped = True
    yield made


def ticks(room: TryRoom, key: str, me: str, *entries: Entry) -> list[bool]:
    return [step.ticked(entries, me) for step in find(key).steps(room, me)]


def did(me: str, kind: str, **body: Any) -> Entry:
    return Entry("", "somewhere", (me,), "", kind, me, body)


def told(me: str, text: str) -> Entry:
    return Entry("", "somewhere", (me,), "", "message", "Tenbell", {"blocks": [{"text": text}]})


def test_a_form_that_was_refused_ticks_nothing_off(room: TryRoom) -> None:
    refused = (did(COACH, "form sent", title="Begin a try-out"), told(COACH, "Nothing was changed yet:"))
    assert not any(ticks(room, "set-up", COACH, *refused))
    begun = told(COACH, "**Robot club try-out** is set up as a draft; students see nothing yet.")
    assert ticks(room, "set-up", COACH, *refused, begun)[1]


def test_who_begins_from_the_page_that_is_there_has_not_to_type_the_command(room: TryRoom) -> None:
    assert ticks(room, "coach", COACH, did(COACH, "press", label="Judges"))[0]


def test_the_table_names_what_is_counted_and_waits_for_it(room: TryRoom) -> None:
    room.server.world.files[1] = File(1, "plan.toml", PLAN, "application/toml", 1, room.server.clock.now)
    assert "**Ball lift: Balls on the shelf**" in find("table").steps(room, SCOREKEEPER)[1].text
    other = did(SCOREKEEPER, "choice", select="What is measured?", chosen=["Posters"])
    assert not ticks(room, "table", SCOREKEEPER, other)[1]
    right = did(SCOREKEEPER, "choice", select="What is measured?", chosen=["Ball lift: Balls on the shelf"])
    assert ticks(room, "table", SCOREKEEPER, other, right)[1]


def test_who_is_here_is_ticked_off_when_it_was_sent_and_not_when_the_form_opens(room: TryRoom) -> None:
    opened = did(SCOREKEEPER, "press", label="Who is here")
    assert not ticks(room, "table", SCOREKEEPER, opened)[3]
    assert ticks(room, "table", SCOREKEEPER, opened, told(SCOREKEEPER, "Here: **4 of 5**."))[3]


def test_a_student_is_told_the_own_section(room: TryRoom) -> None:
    for name, section in list(room.cast.students.items())[:3]:
        assert f"you are in {section}" in find("squad").steps(room, name)[1].text


def test_at_the_end_of_a_way_the_next_one_is_offered_and_not_before(room: TryRoom) -> None:
    room.way[COACH] = {"key": "set-up", "from": 0}
    first = shown_way(room, COACH)
    assert first is not None and first["onward"] is None
    room.way[COACH]["skipped"] = len(find("set-up").steps(room, COACH))
    last = shown_way(room, COACH)
    assert last is not None and last["onward"] == {"key": WAYS[1].key, "title": WAYS[1].title}


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


def test_a_way_is_past_when_whoever_played_the_coach_has_closed_judging(room: TryRoom) -> None:
    world, judge = room.server.world, room.server.world.person(room.cast.judges[0])
    place = world.direct_room(judge)
    assert not find("judge").past(room)
    list_of_sheets = "**Your score sheets** for Robot club try-out\n**6 of 6** done."
    room.server.publisher.create(place, world.bot, {"content": f"{list_of_sheets} Judging is closed."}, [])
    room.server.publisher.create(place, world.bot, {"content": list_of_sheets}, [])
    assert find("judge").past(room), "an older answer that stands below does not hide it"


def test_marking_is_past_when_every_sheet_is_in_though_judging_is_still_open(room: TryRoom) -> None:
    world, now = room.server.world, room.server.clock.now
    news, opens = world.room("news"), [row(button("Open the brief", "brief.show"))]
    deadline = int((now - timedelta(days=7)).timestamp())
    told = {"content": f"The deadline is <t:{deadline}:F>.", "components": opens}
    assert not find("judge").past(room)
    room.server.publisher.create(news, world.bot, told, [])
    assert not find("judge").past(room), "the table is not done"
    room.others.done.add("table with 0 surprises")
    assert find("judge").past(room)
