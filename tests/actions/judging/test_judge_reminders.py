"""Reminders to judges: only what is owed, only to those who owe it, in the plan's hours."""

from datetime import timedelta

import bot.actions.judging.judge_reminders  # noqa: F401
from bot.actions.core.rescheduling import reschedule
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.scheduled_jobs import ring
from bot.rules.squads.names import name_keys
from storage.tables import open_events, scheduled_jobs, squads
from tests.actions.conftest import Begin, button
from tests.actions.judging_cast import ADA, BEN, CY, SQUADS, Cast, cast, enrol
from tests.actions.results.test_hidden_until_close import owing
from tests.actions.scored import preview

WHOLE = {"reasons": 3, "theme": 2}


async def until_judging(begin: Begin, people: tuple[int, ...] = (ADA, BEN)) -> Cast:
    """The window has ended by the clock."""
    found = await cast(begin, people=people)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await reschedule(db, tryout.id, found.asking.now)
        for kind in ("digest", "reminder", "signup-closes"):
            await scheduled_jobs.cancel_jobs(db, tryout.id, kind)
    await pass_time(found, schedule_of(tryout).deadline - found.asking.now)
    return found


async def pass_time(found: Cast, wait: timedelta) -> None:
    """Time passes, and everything that is due happens at its time."""
    end = found.asking.now + wait
    while True:
        async with found.asking.store.write() as db:
            await scheduled_jobs.cancel_jobs(db, (await found.asking.tryout()).id, "digest")
            following = await scheduled_jobs.next_job_at(db)
        if following is None or following > end:
            break
        found.asking.now = following
        await ring(found.asking.store, following)
    found.asking.now = end


async def told(found: Cast, who: int) -> list[str]:
    judge = await found.judge(who)
    return await found.asking.messages_to(f"judge/{judge.id}")


async def test_a_judge_is_reminded_of_just_what_is_open_and_no_more_when_done(begin: Begin) -> None:
    found = await until_judging(begin)
    for squad in SQUADS[:2]:
        await found.fill(ADA, squad, WHOLE)
    for squad in SQUADS:
        await found.fill(BEN, squad, WHOLE)
    await pass_time(found, timedelta(hours=30))
    assert "Still open: 1 of your 3 sheets: Sleepy Turnips." in (await told(found, ADA))[-1]
    before = len(await told(found, ADA))
    assert len(await told(found, BEN)) == 1
    await found.fill(ADA, "Sleepy Turnips", WHOLE)
    await pass_time(found, timedelta(days=5))
    assert len(await told(found, ADA)) == before


async def test_nobody_who_has_not_agreed_is_written_to(begin: Begin) -> None:
    found = await until_judging(begin, people=(ADA,))
    await enrol(found.asking, CY)
    await pass_time(found, timedelta(days=5))
    assert await told(found, CY) == []


async def test_reminders_keep_to_the_hours_of_the_plan_and_end_with_judging(begin: Begin) -> None:
    found = await until_judging(begin)
    tryout = await found.asking.tryout()
    schedule = schedule_of(tryout)
    await pass_time(found, timedelta(days=9))
    async with found.asking.store.read() as db:
        rows = [
            row
            for row in await scheduled_jobs.jobs_of(db, tryout.id)
            if row.kind == "chase" and row.state != "cancelled"
        ]
    assert [row.at for row in rows] == [reminder.at for reminder in schedule.judging_reminders]
    assert len(rows) >= 3
    assert all(row.at.astimezone(schedule.zone).hour == 16 and row.at < schedule.judging_closes for row in rows)
    assert {row.state for row in rows} == {"done"}


async def test_nobody_is_reminded_once_the_coach_has_closed_judging(begin: Begin) -> None:
    found = await until_judging(begin)
    before = len(await told(found, ADA))
    await found.asking.message("judging.closed")
    await pass_time(found, timedelta(days=5))
    assert len(await told(found, ADA)) == before


async def test_nobody_is_reminded_half_an_hour_after_the_sheets_went_out(begin: Begin) -> None:
    found = await until_judging(begin)
    await pass_time(found, timedelta(hours=3))
    assert [text.split(":")[0] for text in await told(found, ADA)] == ["📝 Judging is open"]
    await pass_time(found, timedelta(hours=24))
    assert (await told(found, ADA))[-1].startswith("📝 Still open: 3 of your 3 sheets")


async def test_a_squad_that_came_late_is_handed_out_with_the_next_reminder(begin: Begin) -> None:
    found = await until_judging(begin)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        keys = name_keys("Late Larks")
        await squads.add_squad(db, tryout.id, "Late Larks", keys, "7-A", "zzzzz", found.asking.now)
    await pass_time(found, timedelta(hours=30))
    assert "Still open: 4 of your 4 sheets" in (await told(found, ADA))[-1]
    assert (await found.sheet(ADA, "Late Larks")).state == "open"


async def test_a_coach_reminds_who_owes_something_and_has_agreed_and_not_twice_in_an_hour(begin: Begin) -> None:
    found = await until_judging(begin)
    await enrol(found.asking, CY)
    for squad in SQUADS:
        await found.fill(BEN, squad, WHOLE)
    before = len(await told(found, BEN))
    assert "reminded 1 judge" in (await found.asking.message("judging.remind")).text
    assert "Still open: 3 of your 3 sheets" in (await told(found, ADA))[-1] and len(await told(found, BEN)) == before
    assert "Give them an hour" in (await found.asking.message("judging.remind")).text
    found.asking.now += timedelta(hours=1)
    assert "reminded 1 judge" in (await found.asking.message("judging.remind")).text


async def test_a_reminder_reaches_only_who_owes_and_can_be_written_to_and_not_twice_in_an_hour(begin: Begin) -> None:
    asking, _, second = await owing(begin)
    press = button(await preview(asking), "Remind judge 2").key
    async with asking.store.write() as db:
        await open_events.open_event(db, 1, "bunting", asking.now)
    assert "1 judge cannot be written to before pressing **Start judging**" in (await asking.message(press)).text
    async with asking.store.write() as db:
        await db.run("UPDATE judge SET opted_in_at = '2026-01-01T00:00:00Z' WHERE tryout_id = 1")
    assert "reminded 1 judge" in (await asking.message(press)).text
    told = await asking.messages_to(f"judge/{second}")
    assert len(told) == 1 and "Still open: 2 of your 6 sheets: Muddy Teapots, Sleepy Turnips" in told[0]
    assert "Give them an hour" in (await asking.message(press)).text
    asking.now += timedelta(hours=1)
    assert "reminded 1 judge" in (await asking.message(press)).text
