"""The right people are in a squad's private room, and the coach is told who could not be let in."""

from bot.actions.core.dispatch import ACTIONS, perform
from bot.words.core.action_keys import ActionKey
from bot.words.delivery import undelivered as words
from storage.records.message import Say
from storage.records.request import Request
from storage.tables import helpers, squad_room_members, students
from tests.delivery.server_view import ADDING, MINUTES, once, refusal
from tests.delivery.tryout_on_loopback import Town


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


async def test_a_right_that_is_missing_is_the_rooms_trouble_and_not_one_persons(place: Town) -> None:
    place.wire.before = once(refusal(403, 50013), route=ADDING)
    squad_id = await place.squad("Mud Larks", 1, 2)
    await place.deliver()
    assert place.told() == [words.trouble("no-room", "squad 1, Mud Larks").text]
    assert place.wire.members(await place.room_id(squad_id)) == set()
    await place.deliver(within=MINUTES)
    assert place.wire.members(await place.room_id(squad_id)) == {1, 2}
    assert len(place.told()) == 1
