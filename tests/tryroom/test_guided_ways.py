"""Guided ways without a browser: what ticks a step off, what comes after the last one, and when a way is past."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from deploy.rehearsal.cast.people import COACH, SCOREKEEPER
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.tryroom.guided_way_progress import shown_way
from deploy.rehearsal.tryroom.guided_ways import WAYS, find
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.world.state import File
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
