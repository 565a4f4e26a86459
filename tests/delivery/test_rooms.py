"""Squads' private rooms: opened once, the right people in them, rightly named, put away at the end."""

import pytest

from bot.actions.core.dispatch import ACTIONS, perform
from bot.actions.squads.take_squad_out import take_out
from bot.words.core.action_keys import ActionKey
from bot.words.delivery import undelivered as words
from deploy.rehearsal.server.platform_faults import Fault
from deploy.rehearsal.world.api_errors import Json
from storage.records.message import Say
from storage.records.request import Request
from storage.tables import helpers, squad_room_members, squads, students
from tests.delivery.server_view import ADDING, MINUTES, OPENING_ROOM, RESET, SQUADS, once, refusal
from tests.delivery.tryout_on_loopback import Town


def names(place: Town) -> list[str]:
    return sorted(thread.name for thread in place.wire.threads())


async def test_a_squad_gets_a_private_room_with_its_people_and_coaches_and_no_scorekeeper(place: Town) -> None:
    await place.officer(100)
    await place.officer(101, "scorekeeper")
    squad_id = await place.squad("Mud Larks", 1, 2)
    await place.queue(f"squad/{squad_id}", "welcome")
    await place.deliver()
    room = await place.room_id(squad_id)
    opening = next(body for route, body in place.wire.log if route == OPENING_ROOM)
    assert opening["type"] == 12 and opening["invitable"] is False and opening["auto_archive_duration"] == 10080
    assert place.wire.world.rooms[room].name == "squad 1 - Mud Larks"
    assert place.wire.world.rooms[room].parent_id == SQUADS
    assert place.wire.members(room) == {1, 2, 100}
    assert place.wire.texts(room) == ["welcome"]
    assert place.wire.requests["GET /channels/{channel_id}"] == 1, "the channel above it; opening it has told the rest"
    before = place.wire.requests.total()
    await place.deliver(within=MINUTES)
    assert place.wire.requests.total() == before, "what is as it should be costs no request"


async def test_people_come_and_go_with_the_squad_and_the_office(place: Town) -> None:
    await place.officer(100)
    squad_id = await place.squad("Mud Larks", 1, 2)
    await place.deliver()
    room = await place.room_id(squad_id)
    async with place.store.write() as db:
        leaver = await students.student_of(db, place.tryout_id, 2)
        assert leaver is not None
        await students.unseat(db, leaver)
        await helpers.remove_officer(db, place.tryout_id, 100, "coach")
        place.wire.person(102)
        await helpers.add_officer(db, place.tryout_id, 102, "Helper", "coach")
        await helpers.add_officer(db, place.tryout_id, 103, "Keeper", "scorekeeper")
    await place.deliver()
    assert place.wire.members(room) == {1, 102}
    async with place.store.write() as db:
        back = await students.student_of(db, place.tryout_id, 2)
        assert back is not None
        await students.seat(db, back, squad_id, place.clock.at)
    await place.deliver()
    assert place.wire.members(room) == {1, 2, 102}


async def test_who_left_the_class_server_and_came_back_is_shown_in_anew_by_a_press(place: Town) -> None:
    squad_id = await place.squad("Mud Larks", 1, 2)
    await place.deliver()
    room = await place.room_id(squad_id)
    place.wire.world.rooms[room].members.pop(2)
    await place.deliver(within=MINUTES)
    assert place.wire.members(room) == {1}, "nobody tells us who comes and goes"
    request = Request(id=9, at=place.clock.at, who=2, name="Ida", server_id=place.wire.world.guild_id)
    said = await perform(place.store, ACTIONS[ActionKey.SQUAD_ROOM], request)
    assert isinstance(said, Say) and f"<#{room}>" in said.message.text
    await place.deliver()
    assert place.wire.members(room) == {1, 2}


async def test_a_room_follows_the_squads_name(place: Town) -> None:
    squad_id = await place.squad("Mud Larks")
    await place.deliver()
    async with place.store.write() as db:
        await squads.rename(db, squad_id, "x" * 200, ("y", "y", "y"))
    await place.deliver()
    assert names(place) == [f"squad 1 - {'x' * 90}"]


async def test_the_room_of_a_squad_that_withdrew_is_emptied_and_put_away(place: Town) -> None:
    await place.officer(100)
    squad_id = await place.squad("Mud Larks", 1)
    await place.deliver()
    room = await place.room_id(squad_id)
    async with place.store.write() as db:
        await take_out(db, squad_id)
    await place.deliver()
    state = place.wire.world.rooms[room]
    assert place.wire.members(room) == set()
    assert (state.put_away, state.locked) == (True, True)
    before = place.wire.requests.total()
    await place.deliver(within=MINUTES)
    assert place.wire.requests.total() == before


async def test_a_room_that_may_not_be_locked_is_archived_all_the_same(place: Town) -> None:
    squad_id = await place.squad("Mud Larks")
    await place.deliver()
    async with place.store.write() as db:
        await take_out(db, squad_id)

    async def no_lock(route: str, body: Json) -> Fault | None:
        return refusal(403, 50013) if body.get("locked") else None

    place.wire.before = no_lock
    await place.deliver()
    assert place.wire.world.rooms[await place.room_id(squad_id)].put_away


async def test_the_room_of_a_withdrawn_squad_that_was_deleted_is_left_in_peace(place: Town) -> None:
    squad_id = await place.squad("Mud Larks", 1)
    await place.deliver()
    del place.wire.world.rooms[await place.room_id(squad_id)]
    async with place.store.write() as db:
        await take_out(db, squad_id)
    await place.deliver(within=MINUTES)
    assert (await place.room(squad_id)).room_closed and place.told() == []


async def test_an_archived_room_is_woken_for_a_new_member(place: Town) -> None:
    squad_id = await place.squad("Mud Larks", 1)
    await place.deliver()
    room = await place.room_id(squad_id)
    place.wire.world.rooms[room].put_away = True
    async with place.store.write() as db:
        await squad_room_members.want_in_room(db, squad_id, 2)
        place.wire.person(2)
        student_id = await students.enter_student(db, place.tryout_id, 2, "Late", "7-A")
        student = await students.student(db, student_id)
        assert student is not None
        await students.seat(db, student, squad_id, place.clock.at)
    await place.deliver()
    assert place.wire.members(room) == {1, 2}


async def test_a_locked_room_is_opened_for_a_message(place: Town) -> None:
    squad_id = await place.squad("Mud Larks")
    await place.deliver()
    room = await place.room_id(squad_id)
    place.wire.world.rooms[room].put_away = place.wire.world.rooms[room].locked = True
    await place.queue(f"squad/{squad_id}", "hello")
    await place.deliver()
    assert place.wire.texts(room) == ["hello"]


async def test_people_who_cannot_be_added_are_told_once_and_the_others_are_in(place: Town) -> None:
    place.wire.person(2).in_guild = place.wire.person(3).in_guild = False
    squad_id = await place.squad("Mud Larks", 1, 2, 3, 4)
    await place.queue(f"squad/{squad_id}", "welcome")
    await place.deliver(within=MINUTES)
    room = await place.room_id(squad_id)
    assert place.wire.members(room) == {1, 4}
    assert place.wire.texts(room) == ["welcome"]
    assert place.told() == [words.not_in_room("squad 1, Mud Larks", [2, 3]).text]
    assert place.wire.requests[ADDING] == 4


async def test_a_room_that_cannot_be_opened_is_told_once_and_tried_again(place: Town) -> None:
    refusals = [refusal(403, 50013) for _ in range(3)]
    place.wire.before = once(*refusals, route=OPENING_ROOM)
    squad_id = await place.squad("Mud Larks", 1)
    await place.queue(f"squad/{squad_id}", "welcome")
    await place.queue("news", "others go on")
    await place.deliver(within=2 * MINUTES)
    assert len(place.told()) == 1 and "private threads" in place.told()[0]
    assert place.wire.texts(await place.room_id(squad_id)) == ["welcome"]


async def test_a_right_that_is_missing_is_the_rooms_trouble_and_not_one_persons(place: Town) -> None:
    place.wire.before = once(refusal(403, 50013), route=ADDING)
    squad_id = await place.squad("Mud Larks", 1, 2)
    await place.deliver()
    assert place.told() == [words.trouble("no-room", "squad 1, Mud Larks").text]
    assert place.wire.members(await place.room_id(squad_id)) == set()
    await place.deliver(within=MINUTES)
    assert place.wire.members(await place.room_id(squad_id)) == {1, 2}
    assert len(place.told()) == 1


async def test_a_deleted_room_is_opened_anew_with_everyone_in_it(place: Town) -> None:
    squad_id = await place.squad("Mud Larks", 1, 2)
    await place.deliver()
    first = await place.room_id(squad_id)
    del place.wire.world.rooms[first]
    await place.queue(f"squad/{squad_id}", "hello")
    await place.deliver(within=MINUTES)
    second = await place.room_id(squad_id)
    assert second != first and place.wire.members(second) == {1, 2}
    assert place.wire.texts(second) == ["hello"]
    assert place.told() == [words.trouble("reopened", "squad 1, Mud Larks").text]


@pytest.mark.parametrize("acted", [False, True], ids=["before the server acted", "after the server acted"])
async def test_a_room_is_not_opened_twice_by_a_bad_network(place: Town, acted: bool) -> None:
    setattr(place.wire, "after" if acted else "before", once(RESET, RESET, route=OPENING_ROOM))
    for number in (1, 2, 3):
        await place.squad(f"S{number}", number)
    await place.deliver(within=MINUTES)
    assert names(place) == ["squad 1 - S1", "squad 2 - S2", "squad 3 - S3"]
    assert sorted(map(sorted, (place.wire.members(one.id) for one in place.wire.threads()))) == [[1], [2], [3]]


async def test_a_room_is_found_again_after_a_crash_even_if_the_squad_was_renamed(place: Town) -> None:
    squad_id = await place.squad("Mud Larks", 1)
    assert await place.run_until_killed(True, lambda request: request == OPENING_ROOM, MINUTES)
    assert (await place.room(squad_id)).room_id is None and len(place.wire.threads()) == 1
    async with place.store.write() as db:
        await squads.rename(db, squad_id, "Sky Larks", ("s", "s", "s"))
    await place.deliver(within=MINUTES)
    assert names(place) == ["squad 1 - Sky Larks"]
    assert place.wire.members(await place.room_id(squad_id)) == {1}
