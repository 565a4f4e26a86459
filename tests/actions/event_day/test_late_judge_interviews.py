"""Judges who come late take part in interviews at once, or the office names them with the button that mends it."""

from bot.actions.core.live_messages import compose
from storage.records.message import Message
from storage.records.request import Person
from storage.tables import judges
from storage.tables.sql_session import stamp
from tests.actions.conftest import Asking, Begin
from tests.actions.event_day.day_cast import made, slots
from tests.actions.table_help import labels, press


async def _agree(asking: Asking, who: int) -> int:
    """The coach adds somebody as a judge, who agrees."""
    await asking.ask("judges.add", people=(Person(id=who, name="Ms Late"),))
    await asking.ask("sheets.start", who)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        judge = await judges.judge_of(db, tryout.id, who)
    assert judge is not None
    return judge.id


async def _card(asking: Asking, key: str) -> str:
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        message = await compose(db, tryout, key)
    return message.text if message else ""


async def test_a_judge_who_agrees_after_the_timetable_was_made_takes_part_at_once(begin: Begin) -> None:
    asking = await made(begin, 4, judges=2)
    before = await slots(asking, "interview")
    heard = [len(await asking.messages_to(f"judge/{judge}")) for judge in (1, 2)]
    judge = await _agree(asking, 299)
    after = await slots(asking, "interview")
    assert [slot.begins_at for slot in after] == [slot.begins_at for slot in before]
    assert all(slot.judges == (1, 2, judge) for slot in after)
    assert (await _card(asking, f"day-judge/{judge}")).count("Bunting, interview") == 4
    # The times of the others are as they were, so that they are told nothing.
    assert [len(await asking.messages_to(f"judge/{judge}")) for judge in (1, 2)] == heard
    assert await _card(asking, "day-interviews") == ""
    # Who is let go has no interviews any more.
    await asking.ask(f"judges.removed:{judge}")
    assert all(slot.judges == (1, 2) for slot in await slots(asking, "interview"))


async def test_a_judge_for_whom_there_is_no_room_is_named_in_the_office_with_the_button_that_mends_it(
    begin: Begin,
) -> None:
    asking = await made(begin, 2, judges=1)
    one, other = await slots(asking, "interview")
    async with asking.store.write() as db:
        # A second rubric's judge is elsewhere at that time: both interviews at once.
        await db.run("UPDATE day_slot SET begins_at = ?, ends_at = ?, judges_json = '[]' WHERE id = ?",
                     stamp(one.begins_at), stamp(one.ends_at), other.id)  # fmt: skip
    judge = await _agree(asking, 299)
    assert [slot.judges for slot in await slots(asking, "interview")].count((1, judge)) == 1
    said = await _card(asking, "day-interviews")
    assert "has no interview with" in said
    assert "Make it again" in labels(await _left(asking))
    await press(asking, await _left(asking), "Make it again")
    assert all(slot.judges == (1, judge) for slot in await slots(asking, "interview"))
    assert await _card(asking, "day-interviews") == ""


async def _left(asking: Asking) -> Message:
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        message = await compose(db, tryout, "day-interviews")
    assert message is not None
    return message


async def test_a_judge_who_was_asked_before_and_agrees_after_the_squads_were_told_reads_the_interviews(
    begin: Begin,
) -> None:
    asking = await made(begin, 2, judges=2)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        keys = {row["key"] for row in await db.rows("SELECT key FROM live_message WHERE key GLOB 'day-judge/*'")}
    await asking.ask("sheets.start", 201)
    async with asking.store.read() as db:
        now = {row["key"] for row in await db.rows("SELECT key FROM live_message WHERE key GLOB 'day-judge/*'")}
    assert (keys, now) == (set(), {"day-judge/1"})
    assert tryout.state == "window"
