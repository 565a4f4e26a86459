"""After a gap the coach reads what came late: what was due and not done in time, and what was not sent in time."""

from datetime import timedelta

from bot.actions.delivery.gap_and_backup_notices import tell_gap
from storage.records.message import Message
from storage.tables import outbox, scheduled_jobs
from storage.tables.sql_session import stamp
from tests.actions.conftest import START, Asking, Begin

SINCE, UNTIL = START + timedelta(hours=1), START + timedelta(hours=9)


JOBS = (("digest", 2, 2), ("reminder", 3, 8.99), ("chase", 4, None), ("deadline", 10, None))
MESSAGES = (("on time", 2, 2), ("late", 3, 8.99), ("waits", 4, None))
"""What, when it was due, and when it was done; in hours after the start."""
LAST = "(SELECT max(id) FROM outbox_message)"


def at(hours: float) -> timedelta:
    return timedelta(hours=hours)


async def fill(asking: Asking) -> None:
    """One job of each fate, and three messages: on time, late, and still waiting."""
    async with asking.store.write() as db:
        (tryout_id,) = [int(row["id"]) for row in await db.rows("SELECT id FROM tryout")]
        for kind, hours, handled in JOBS:
            await scheduled_jobs.schedule_job(db, tryout_id, kind, "", START + at(hours))
            if handled is not None:
                (row,) = await db.rows("SELECT max(id) AS id FROM scheduled_job")
                await scheduled_jobs.settle_job(db, int(row["id"]), "done", START + at(handled))
        for text, hours, sent in MESSAGES:
            await outbox.enqueue(db, tryout_id, "news", Message(text=text), START + at(hours))
            if sent is not None:
                await db.run(
                    f"UPDATE outbox_message SET state = 'sent', settled_at = ? WHERE id = {LAST}",
                    stamp(START + at(sent)),
                )


async def test_what_was_late_is_listed_with_its_reason_and_nothing_else(begin: Begin) -> None:
    asking = await begin("window")
    await fill(asking)
    assert await tell_gap(asking.store, SINCE, UNTIL, "asleep") == 1
    (told,) = await asking.messages_to("office")
    lines = [line.split(":")[0] for line in told.splitlines() if line.startswith("- ")]
    assert lines[:2] == ["- a reminder to squads", "- a reminder to judges"]
    assert len(lines) == 3 and "2 messages" in told
    assert "the computer I run on was asleep" in told


async def test_a_gap_into_which_nothing_fell_is_not_mentioned(begin: Begin) -> None:
    asking = await begin("window")
    await fill(asking)
    assert await tell_gap(asking.store, START + at(5), START + at(9), "network") == 0
    assert await asking.messages_to("office") == []


async def test_a_try_out_without_an_office_is_told_nothing(begin: Begin) -> None:
    asking = await begin("window")
    await fill(asking)
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET rooms_json = json_remove(rooms_json, '$.office')")
    assert await tell_gap(asking.store, SINCE, UNTIL, "stopped") == 0
