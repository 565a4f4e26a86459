"""What follows one press in delivery does not grow with the class: transactions and requests are counted."""

from pathlib import Path

import discord
import pytest

from bot.delivery.delivery_loop import DeliveryLoop
from bot.rules.delivery.sending_limits import EDIT_PAUSE
from bot.rules.squads.join_and_link_codes import join_code
from deploy.rehearsal.world.state import PRIVATE_THREAD
from deploy.rehearsal.world.state import Room as Channel
from storage.tables import squad_room_members
from tests.actions.filled_class import Cost, LargeClass, large_class
from tests.delivery.server_view import NEWS, OFFICE, SIGNUP, SQUADS, START, Wire
from tests.delivery.tryout_on_loopback import HandClock, Town

LATE = 5002


async def one_join(path: Path, wire: Wire, client: discord.Client, count: int) -> tuple[Cost, list[str]]:
    """Somebody joins the last of so many squads: what that costs until all is delivered, and what is asked for."""
    for room in (SIGNUP, NEWS, SQUADS, OFFICE):
        wire.channel(room)
    async with large_class(path, count) as one:
        await _stand(one, wire)
        clock = HandClock(one.now, moved=wire.world.timeline.move_to)
        async with DeliveryLoop(client, one.store, clock) as opened:
            one.store.on_commit(opened.wake)
            await opened.quiet()
            assert await one.stale() == set()
            one.cost()
            asked = len(wire.log)
            clock.move(EDIT_PAUSE)
            answer = await one.ask("squad.join-by-code", LATE, fields={"code": join_code(count), "name": "Bo"})
            assert "You are in" in answer.message.text  # type: ignore[union-attr]
            await opened.quiet()
            assert await one.stale() == set()
            return one.cost(), sorted(route for route, _ in wire.log[asked:])


async def _stand(one: LargeClass, wire: Wire) -> None:
    """The rooms of the squads are there, and what stands in them need not be shown again but in the last one."""
    wire.person(LATE)
    async with one.store.write() as db:
        for squad in range(1, one.squads + 1):
            me = wire.world.bot.id
            room = Channel(9000 + squad, PRIVATE_THREAD, f"{squad}", START, parent_id=SQUADS, owner_id=me)
            room.members[me] = START
            wire.world.rooms[room.id] = room
        await squad_room_members.adjust_seats(db)
        await db.run("UPDATE room_seat SET present = wanted")
        await db.run("UPDATE squad SET room_outdated = 0")
        shown = f"key GLOB 'roster/*' OR address = 'squad/{one.squads}'"
        await db.run(f"UPDATE live_message SET stale = ({shown}), message_id = iif({shown}, NULL, message_id)")


@pytest.mark.parametrize("count", [10, 300])
async def test_one_join_costs_at_most_ten_transactions_in_a_class_of_any_size(
    tmp_path: Path, wire: Wire, client: discord.Client, count: int
) -> None:
    cost, asked = await one_join(tmp_path / "a.db", wire, client, count)
    board, hand_in = ["PATCH /channels/{channel_id}/messages/{message_id}"] * 2
    came, told = "PUT /channels/{channel_id}/thread-members/{user_id}", "POST /channels/{channel_id}/messages"
    assert sorted(set(asked) - {"GET /channels/{channel_id}"}) == sorted({board, hand_in, came, told})
    assert cost.transactions <= 10
    assert cost.snapshots <= 20, cost


async def test_seats_follow_squads_and_offices_without_being_looked_through(place: Town) -> None:
    await place.officer(100)
    first = await place.squad("One", 1, 2)
    await place.officer(101)
    await place.squad("Two", 3)
    async with place.store.write() as db:
        before = await db.rows("SELECT squad_id, platform_id, wanted FROM room_seat ORDER BY 1, 2")
        assert [(row[1], row[2]) for row in before if row[0] == first] == [(1, 1), (2, 1), (100, 1), (101, 1)]
        await squad_room_members.adjust_seats(db)
        after = await db.rows("SELECT squad_id, platform_id, wanted FROM room_seat ORDER BY 1, 2")
    assert [tuple(row) for row in after] == [tuple(row) for row in before]
