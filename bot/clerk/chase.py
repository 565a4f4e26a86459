"""Reminding judges of the sheets they still owe; silent to those who owe nothing."""

from datetime import datetime

from bot.clerk.countdown import hold
from bot.clerk.dockets import entries_of
from bot.clerk.dues import due, is_late
from bot.clerk.moments import schedule_of
from bot.clerk.trail import note
from bot.words import judge_letters as words
from storage.records.delivery import Due
from storage.records.tryout import Tryout
from storage.tables import judges, post
from storage.tables.session import Transaction


@due("chase", catch_up=True)
async def chase(db: Transaction, tryout: Tryout, row: Due, now: datetime) -> None:
    """Tell each judge who agreed to be written to what is still open, and when it should be done."""
    if await hold(db, tryout, row, now):
        return
    closes = schedule_of(tryout).judging_closes
    told = 0
    for judge in await judges.judges(db, tryout.id):
        mine = await entries_of(db, tryout, judge)
        if judge.opted_in_at is not None and any(entry.owed and entry.changeable for entry in mine):
            message = words.still_open(mine, closes, is_late(row, now))
            await post.queue(db, tryout.id, f"judge/{judge.id}", message, now, row.stale_after)
            told += 1
    if told:
        await note(db, tryout.id, now, "clock", "judges.chase", {"judges": told})
