"""Whether the result is final, and what follows when the days for protests are over or the last one is decided."""

from collections import defaultdict
from datetime import datetime
from typing import Literal

from bot.actions.core.scheduled_jobs import job
from bot.rules.results.finality import SURE, SURE_WITH_A_YES, Doubt, doubt, later_end
from bot.words.results import finality as words
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import (
    mixed_team,
    outbox,
    place_offers,
    protests,
    scheduled_jobs,
    students,
)
from storage.tables.sql_session import Snapshot, Transaction


async def doubt_of(db: Snapshot, tryout: Tryout, now: datetime) -> Doubt | None:
    """Why the announced result is not final now; None when it is, and where nothing is announced."""
    if tryout.announced_at is None:
        return None
    return doubt(tryout.plan, tryout.announced_at, await protests.protests(db, tryout.id), now)


async def look_again(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """The days are over, or the last protest is decided: tell all whom it concerns what is final, or waits."""
    why = await doubt_of(db, tryout, now)
    rooms, members = await _holding(db, tryout, SURE)
    if why is None:
        await outbox.enqueue(db, tryout.id, "news", words.final_news(tryout.plan), now)
        asked, waiting = await _holding(db, tryout, SURE_WITH_A_YES)
        can_say_yes = sorted({*asked, *waiting})
        told = words.now_final(len({*rooms, *members}), len(can_say_yes))
        await outbox.enqueue(db, tryout.id, "office", told, now)
        for squad_id in rooms:
            await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", words.sure_for_squad(), now)
        for squad_id, names in members.items():
            await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", words.sure_for_members(names), now)
        for squad_id in can_say_yes:
            await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", words.sure_once_accepted(), now)
    elif why.days_over:
        await outbox.enqueue(db, tryout.id, "office", words.still_waiting(why), now)
        for squad_id in sorted({*rooms, *members}):
            await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", words.waits_longer(), now)


async def _holding(
    db: Snapshot, tryout: Tryout, state: Literal["open", "accepted"]
) -> tuple[list[int], dict[int, list[str]]]:
    """Squads whose offer is in this state, and by squad the names of members of whom that is true."""
    rooms = [one.squad_id for one in await place_offers.offers(db, tryout.id) if one.state == state]
    members: dict[int, list[str]] = defaultdict(list)
    for known in await mixed_team.offers(db, tryout.id):
        one = await students.student(db, known.student_id) if known.state == state else None
        if one is not None and one.squad_id is not None:
            members[one.squad_id].append(one.name)
    return rooms, members


async def plan_end_of_protests(db: Transaction, tryout: Tryout, until: datetime) -> None:
    """Have it told when the days are over: of each announcement, also of one that is corrected after they were."""
    await scheduled_jobs.schedule_job(db, tryout.id, "protests", f"over-{int(until.timestamp())}", until)


@job("protests")
async def protests_over(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Coach and squads are told that the result stands, or that it waits; later, where a day was closed meanwhile."""
    if tryout.state == "announced" and tryout.announced_at is not None:
        until = later_end(tryout.plan, tryout.announced_at, now)
        if until is not None:
            await plan_end_of_protests(db, tryout, until)
        else:
            await look_again(db, tryout, now)
