"""Where messages go: to a squad's room once there is one, to judges who asked for it, nowhere to those who left."""

from datetime import timedelta

from bot.actions.squads.take_squad_out import take_out
from storage.tables import judges
from tests.delivery.server_view import MINUTES, OPENING_DIRECT
from tests.delivery.tryout_on_loopback import Town


async def test_a_message_to_a_squad_waits_for_its_room_and_withers_there(place: Town) -> None:
    squad_id = await place.squad("Mud Larks")
    async with place.store.write() as db:
        await db.run("UPDATE tryout SET rooms_json = '{}'")
    short = await place.queue(f"squad/{squad_id}", "short", stale_after=place.clock.at + timedelta(minutes=5))
    await place.queue(f"squad/{squad_id}", "long")
    await place.deliver(within=MINUTES)
    place.clock.move(MINUTES)
    await place.deliver()
    assert (await place.outgoing(short)).why == "too-late"
    async with place.store.write() as db:
        await db.run("""UPDATE tryout SET rooms_json = '{"squads": 52}'""")
    await place.deliver()
    assert place.wire.texts(await place.room_id(squad_id)) == ["long"]


async def test_messages_to_those_who_left_are_skipped(place: Town) -> None:
    squad_id, judge_id = await place.squad("Mud Larks"), await place.judge(70)
    queued = [await place.queue(address, "hello") for address in (f"squad/{squad_id}", f"judge/{judge_id}", "nobody/7")]
    async with place.store.write() as db:
        await take_out(db, squad_id)
        await judges.remove(db, judge_id)
    await place.deliver()
    assert [(await place.outgoing(one)).why for one in queued] == ["withdrawn", "removed", "nowhere"]


async def test_judges_are_written_to_only_once_they_asked_for_it(place: Town) -> None:
    judge_id = await place.judge(70, agreed=False)
    await place.queue(f"judge/{judge_id}", "hello")
    await place.deliver(within=MINUTES)
    assert place.wire.requests[OPENING_DIRECT] == 0
    async with place.store.write() as db:
        await judges.opt_in(db, judge_id, "Judge", place.clock.at)
    await place.deliver()
    assert place.wire.direct_texts(70) == ["hello"]
