"""Killed at any request, as often as you like: everything arrives once, in order, and nothing is doubled."""

import asyncio
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from unittest.mock import patch

from hypothesis import example, given, settings
from hypothesis import strategies as st

from bot.actions.core.live_messages import live_message
from bot.actions.core.scheduled_jobs import job
from storage.records.message import Attachment, Message
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, scheduled_jobs, squads
from storage.tables.sql_session import Snapshot, Transaction
from tests.delivery.server_view import MINUTES, NEWS, SIGNUP, Wire, logged_in, serving
from tests.delivery.tryout_on_loopback import Town, town

KILLS = st.lists(st.tuples(st.integers(1, 14), st.booleans()), max_size=6)
"""At which request of each life of the process it is killed, and whether the server still acts."""


@contextmanager
def own_kinds() -> Iterator[None]:
    """A live message and a reminder, for these checks only."""
    with patch("bot.actions.core.live_messages.COMPOSERS", {}), patch("bot.actions.core.scheduled_jobs.JOB_TYPES", {}):

        @live_message("board")
        async def board(db: Snapshot, tryout: Tryout, key: str) -> Message:
            sent = await db.value("SELECT count(*) FROM scheduled_job WHERE state = 'done'")
            return Message(text=f"{sent} reminders so far", files=(Attachment(name="a.png", data=b"A"),))

        @job("reminder")
        async def remind(db: Transaction, tryout: Tryout, job: ScheduledJob, now: datetime) -> None:
            for squad in await squads.squads(db, tryout.id):
                await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", Message(text="still owed: a robot"), now)
            await outbox.enqueue(db, tryout.id, "news", Message(text="another day has gone"), now)
            await live_messages.mark_stale(db, tryout.id, "board/*")

        yield


async def season(kills: list[tuple[int, bool]], remembers_nonces: bool, tells_nonces: bool) -> None:
    wire = Wire()
    wire.nonces(remembered=remembers_nonces, told=tells_nonces)
    with tempfile.TemporaryDirectory() as folder:
        async with (
            serving(wire),
            logged_in(wire) as client,
            town(Path(folder) / "tenbell.db", wire, client, durable=True) as place,
        ):
            await _live(place, kills)
            _check(place, [await place.room_id(squad_id) for squad_id in (1, 2)], await place.judge(70))


async def _live(place: Town, kills: list[tuple[int, bool]]) -> None:
    await place.officer(100)
    for number in (1, 2):
        squad_id = await place.squad(f"S{number}", number)
        await place.queue(f"squad/{squad_id}", "welcome")
    judge_id = await place.judge(70)
    await place.place("board/1", "signup", pinned=True)
    await place.queue(f"judge/{judge_id}", "your list")
    async with place.store.write() as db:
        for day in (1, 2):
            moment = place.clock.at + timedelta(minutes=day)
            await scheduled_jobs.schedule_job(db, place.tryout_id, "reminder", f"day-{day}", moment)
    for at, acted in kills:
        left = at

        def fatal(request: str) -> bool:
            nonlocal left
            left -= 1
            return left == 0

        await place.run_until_killed(acted, fatal, timedelta(minutes=1))
    await place.deliver(within=MINUTES)


def _check(place: Town, rooms: list[int], judge_id: int) -> None:
    wire = place.wire
    assert wire.texts(NEWS) == ["another day has gone"] * 2
    assert wire.texts(SIGNUP) == ["2 reminders so far"]
    assert wire.pins() >= {wire.posts(SIGNUP)[0].id}
    assert sorted(one.id for one in wire.threads()) == sorted(rooms), "no room was opened twice"
    for number, room in enumerate(rooms, start=1):
        assert wire.texts(room) == ["welcome", "still owed: a robot", "still owed: a robot"]
        assert wire.members(room) == {number, 100}
    assert wire.direct_texts(70) == ["your list"]
    assert place.told() == [] and judge_id == 1


@settings(max_examples=40)
@given(kills=KILLS, remembers_nonces=st.booleans(), tells_nonces=st.booleans())
@example(kills=[(1, True)] * 6, remembers_nonces=False, tells_nonces=False)
@example(kills=[(1, False)] * 6, remembers_nonces=False, tells_nonces=False)
def test_whenever_it_is_killed_everything_arrives_exactly_once(
    kills: list[tuple[int, bool]], remembers_nonces: bool, tells_nonces: bool
) -> None:
    with own_kinds():
        asyncio.run(season(kills, remembers_nonces, tells_nonces))
