"""What is due: handled once, in order, in one transaction; late, overtaken, refused and failing things."""

import asyncio
from collections.abc import AsyncIterator, Callable
from datetime import datetime, timedelta

import pytest

from bot.actions.core.scheduled_jobs import job, ring
from bot.actions.core.worker_thread import Outdated
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from storage.file_errors import StorageFault
from storage.records.message import Message
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.store import Store
from storage.tables import outbox, scheduled_jobs
from storage.tables.sql_session import Snapshot, Transaction
from tests.actions.conftest import START, Asking, Begin

HOUR = timedelta(hours=1)


@pytest.fixture(autouse=True)
def no_kinds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bot.actions.core.scheduled_jobs.JOB_TYPES", {})


@pytest.fixture
async def town(begin: Begin) -> AsyncIterator[Asking]:
    yield await begin("window")


async def say(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    await outbox.enqueue(db, tryout.id, "news", Message(text=row.key), now)


async def plan(town: Asking, kind: str, key: str, at: datetime, stale_after: datetime | None = None) -> None:
    async with town.store.write() as db:
        await scheduled_jobs.schedule_job(db, (await town.tryout()).id, kind, key, at, stale_after)


async def states(town: Asking) -> dict[str, str]:
    async with town.store.read() as db:
        rows = await scheduled_jobs.jobs_of(db, (await town.tryout()).id)
    return {row.key: f"{row.state} {row.why}".strip() for row in rows}


async def next_job_at(store: Store) -> datetime | None:
    async with store.read() as db:
        return await scheduled_jobs.next_job_at(db)


async def test_what_is_due_is_done_once_and_oldest_first(town: Asking) -> None:
    job("say")(say)
    await plan(town, "say", "second", START + HOUR)
    await plan(town, "say", "first", START)
    await plan(town, "say", "third", START + 3 * HOUR)
    assert await next_job_at(town.store) == START
    for _ in range(2):
        await ring(town.store, START + HOUR)
    assert await town.messages_to("news") == ["first", "second"]
    assert await states(town) == {"first": "done", "second": "done", "third": "waiting"}
    assert await next_job_at(town.store) == START + 3 * HOUR


async def test_writes_follow_up_and_done_are_kept_together_or_not_at_all(town: Asking) -> None:
    fails = True

    @job("chain")
    async def chain(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        await say(db, tryout, row, now)
        await scheduled_jobs.schedule_job(db, tryout.id, "chain", "next", now + HOUR)
        if fails:
            raise RuntimeError

    await plan(town, "chain", "first", START)
    await ring(town.store, START)
    assert await town.messages_to("news") == []
    assert list(await states(town)) == ["first"]
    fails = False
    await ring(town.store, START + timedelta(seconds=1))
    assert await town.messages_to("news") == ["first"]
    assert await states(town) == {"first": "done", "next": "waiting"}


async def test_what_is_planned_for_this_very_instant_is_done_in_the_same_ring(town: Asking) -> None:
    @job("chain")
    async def chain(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        await say(db, tryout, row, now)
        if row.key != "xxx":
            await scheduled_jobs.schedule_job(db, tryout.id, "chain", row.key + "x", now)

    await plan(town, "chain", "x", START)
    await ring(town.store, START)
    assert await town.messages_to("news") == ["x", "xx", "xxx"]


async def test_a_fault_is_put_off_with_growing_patience_and_the_rest_goes_on(
    town: Asking, caplog: pytest.LogCaptureFixture
) -> None:
    quoted = "what a child wrote"

    @job("broken")
    async def broken(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        raise ValueError(quoted)

    job("say")(say)
    await plan(town, "broken", "bad", START)
    await plan(town, "unheard-of", "newer", START)
    await plan(town, "say", "good", START)
    now, waits = START, []
    for _ in range(4):
        await ring(town.store, now)
        upcoming = await next_job_at(town.store)
        assert upcoming is not None
        waits.append((upcoming - now).total_seconds())
        now = upcoming
    assert waits == [1, 2, 4, 8]
    assert await town.messages_to("news") == ["good"]
    after = await states(town)
    assert after["bad"].startswith("waiting fault ") and after["newer"].startswith("waiting fault ")
    assert after["bad"].removeprefix("waiting fault ") in caplog.text
    assert quoted not in caplog.text


async def test_what_is_too_late_is_skipped_with_the_reason(town: Asking) -> None:
    job("say")(say)
    await plan(town, "say", "late", START, stale_after=START + HOUR)
    await plan(town, "say", "just in time", START, stale_after=START + 2 * HOUR)
    await ring(town.store, START + 2 * HOUR)
    assert await states(town) == {"late": "skipped too late", "just in time": "done"}
    assert await town.messages_to("news") == ["just in time"]


async def test_after_a_gap_one_of_a_kind_catches_up_for_all(town: Asking) -> None:
    job("remind", catch_up=True)(say)
    job("say")(say)
    for day in range(1, 5):
        await plan(town, "remind", f"day {day}", START + day * 24 * HOUR)
    await plan(town, "say", "other", START + 30 * HOUR)
    await ring(town.store, START + 80 * HOUR)
    assert await town.messages_to("news") == ["other", "day 3"]
    assert await states(town) == {
        "day 1": "skipped caught up",
        "other": "done",
        "day 2": "skipped caught up",
        "day 3": "done",
        "day 4": "waiting",
    }


async def test_one_that_is_too_late_does_not_catch_up_for_those_that_are_not(town: Asking) -> None:
    job("remind", catch_up=True)(say)
    await plan(town, "remind", "older", START, stale_after=START + 9 * HOUR)
    await plan(town, "remind", "newer", START + HOUR, stale_after=START + 2 * HOUR)
    await ring(town.store, START + 3 * HOUR)
    assert await states(town) == {"older": "done", "newer": "skipped too late"}


async def test_a_refusal_skips_with_its_reason_and_undoes_what_was_written(town: Asking) -> None:
    @job("refused")
    async def refused(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        await say(db, tryout, row, now)
        raise Refusal(ResultReason.NOT_IN_LINE)

    await plan(town, "refused", "brief", START)
    await ring(town.store, START)
    assert await states(town) == {"brief": "skipped not_in_line"}
    assert await town.messages_to("news") == []


async def test_a_handler_may_settle_its_own_row_or_cancel_those_that_follow(town: Asking) -> None:
    @job("first")
    async def first(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        await scheduled_jobs.settle_job(db, row.id, "skipped", now, "nothing owed")
        await scheduled_jobs.cancel_jobs(db, tryout.id, "say")

    job("say")(say)
    await plan(town, "first", "one", START)
    await plan(town, "say", "two", START)
    await ring(town.store, START)
    assert await states(town) == {"one": "skipped nothing owed", "two": "cancelled"}
    assert await town.messages_to("news") == []


async def test_one_that_plans_itself_for_ever_does_not_hang_the_alarm(town: Asking) -> None:
    @job("loop")
    async def loop(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        await scheduled_jobs.schedule_job(db, tryout.id, "loop", f"{row.key}x", now)

    await plan(town, "loop", "x", START)
    await ring(town.store, START)
    assert len(await states(town)) == 51


async def test_a_handler_whose_sql_is_wrong_does_not_stop_the_others(town: Asking) -> None:
    @job("broken")
    async def broken(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        await db.run("DELETE FROM no_such_table")

    job("say")(say)
    await plan(town, "broken", "bad", START)
    await plan(town, "say", "good", START)
    await ring(town.store, START)
    assert await town.messages_to("news") == ["good"]
    assert (await states(town))["bad"].startswith("waiting fault ")


async def test_a_database_that_cannot_be_written_is_one_fault_and_nothing_is_skipped(town: Asking) -> None:
    job("say")(say)
    await plan(town, "say", "one", START)
    await town.store._writer.execute("PRAGMA query_only = ON")
    with pytest.raises(StorageFault):
        await ring(town.store, START)
    await town.store._writer.execute("PRAGMA query_only = OFF")
    await ring(town.store, START)
    assert await states(town) == {"one": "done"}


async def test_long_work_is_done_before_the_transaction_and_anew_when_what_it_saw_has_changed(town: Asking) -> None:
    drawn: list[int] = []

    async def count(db: Snapshot, tryout: Tryout, now: datetime) -> Callable[[], int]:
        messages = int(await db.value("SELECT count(*) FROM outbox_message"))

        def work() -> int:
            drawn.append(messages)
            if len(drawn) == 1:
                # Somebody else writes meanwhile: that waits for nothing.
                asyncio.run_coroutine_threadsafe(meanwhile(), loop).result(60)
            return messages

        return work

    async def meanwhile() -> None:
        async with town.store.write() as db:
            await outbox.enqueue(db, 1, "news", Message(text="meanwhile"), START)

    loop = asyncio.get_running_loop()

    @job("count", before=count)
    async def tell(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime, *, prepared: int) -> None:
        if prepared != await db.value("SELECT count(*) FROM outbox_message"):
            raise Outdated
        await outbox.enqueue(db, tryout.id, "news", Message(text=f"{prepared} so far"), now)

    await plan(town, "count", "once", START)
    await ring(town.store, START)
    assert drawn == [0, 1]
    assert await town.messages_to("news") == ["meanwhile", "1 so far"]
    assert await states(town) == {"once": "done"}
