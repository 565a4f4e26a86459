"""Ten days of post against the faithful class server, which enforces the platform's limits and can misbehave."""

import asyncio
from collections import Counter
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import discord
import pytest
from yarl import URL

from bot.actions.core.live_messages import live_message
from bot.actions.core.scheduled_jobs import job
from bot.actions.judging.judges_admin import enrol
from bot.delivery.delivery_loop import DeliveryLoop
from bot.stepped_clock import open_stepped_clock
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.fault_kinds import CLOSED_DM, DROPS, ERRORS, LIMITS
from deploy.rehearsal.server.platform_faults import FaultInjection
from deploy.rehearsal.world.state import Room
from storage.records.message import Attachment, Button, Message
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import ROOM_KINDS, Tryout
from storage.store import Store
from storage.tables import helpers, judges, live_messages, outbox, scheduled_jobs, squads, students, tryouts
from storage.tables.sql_session import Snapshot, Transaction
from tests.actions.conftest import small_plan
from tests.databases import new_store

START = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
DAYS = 10
DAY = timedelta(days=1)


@pytest.fixture(autouse=True)
def register_jobs(monkeypatch: pytest.MonkeyPatch) -> None:
    """A live message for everyone, one for each judge and squad, and a daily reminder: for these checks only."""
    monkeypatch.setattr("bot.actions.core.live_messages.COMPOSERS", {})
    monkeypatch.setattr("bot.actions.core.scheduled_jobs.JOB_TYPES", {})

    async def compose(db: Snapshot, tryout: Tryout, key: str) -> Message:
        done = await db.value("SELECT count(*) FROM scheduled_job WHERE state = 'done'")
        picture = Attachment(name="board.png", data=b"PNG", alt="The board")
        rows = ((Button(key=f"open:{key}", label="Open", style="main"),),)
        return Message(text=f"{key}: day {done}", rows=rows, files=(picture,))

    for kind in ("board", "judge", "squad"):
        live_message(kind)(compose)

    @job("remind")
    async def remind(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        await outbox.enqueue(db, tryout.id, "news", Message(text="Another day has gone."), now)
        if int(row.key) >= DAYS:
            # Squads hear nothing for longer than the platform leaves a quiet room open.
            for squad in await squads.squads(db, tryout.id):
                await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", Message(text="Time is up."), now)
        for pattern in ("board/*", "judge/*", "squad/*"):
            await live_messages.mark_stale(db, tryout.id, pattern)


@asynccontextmanager
async def connected(server: ClassServer) -> AsyncIterator[discord.Client]:
    """The chat library, on line with the class server."""
    client = discord.Client(
        intents=discord.Intents(guilds=True),
        allowed_mentions=discord.AllowedMentions.none(),
        guild_ready_timeout=0.1,
        max_ratelimit_timeout=30,
    )
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(discord.http.Route, "BASE", server.api)
        gateway = f"ws://127.0.0.1:{server.port}/gateway"
        patch.setattr(discord.gateway.DiscordWebSocket, "DEFAULT_GATEWAY", URL(gateway))
        await client.login(server.token)
        listening = asyncio.create_task(client.connect())
        await asyncio.wait_for(client.wait_until_ready(), 60)
        try:
            yield client
        finally:
            await client.close()
            await listening


async def found(store: Store, server: ClassServer) -> None:
    """A try-out with three squads, two judges and a coach."""
    world = server.world
    async with store.write() as db:
        tryout_id = await tryouts.create(db, world.guild_id, small_plan(), START)
        await tryouts.set_state(db, tryout_id, "signup")
        for kind in ROOM_KINDS:
            await tryouts.set_room(db, tryout_id, kind, world.room(kind).id)
        await helpers.add_officer(db, tryout_id, world.person("Ms Holloway").id, "Ms Holloway", "coach")
        await live_messages.place(db, tryout_id, "board/1", "signup", pinned=True)
        for number in (1, 2, 3):
            name = f"Squad {number}"
            squad_id = await squads.add_squad(db, tryout_id, name, (name, name, name), "7-A", name, START)
            for outgoing in "ab":
                person = world.person(f"Student {number}{outgoing}")
                student_id = await students.enter_student(db, tryout_id, person.id, person.name, "7-A")
                student = await students.student(db, student_id)
                assert student is not None
                await students.seat(db, student, squad_id, START)
            await outbox.enqueue(db, tryout_id, f"squad/{squad_id}", Message(text="Welcome."), START)
            await live_messages.place(db, tryout_id, f"squad/{squad_id}", f"squad/{squad_id}")
        for number in (1, 2):
            judge_id = await enrol(db, tryout_id, world.person(f"Judge {number}").id, f"Judge {number}")
            await judges.opt_in(db, judge_id, f"Judge {number}", START)
            await live_messages.place(db, tryout_id, f"judge/{judge_id}", f"judge/{judge_id}")
            await outbox.enqueue(db, tryout_id, f"judge/{judge_id}", Message(text="Thank you."), START)
        for day in range(1, DAYS + 1):
            await scheduled_jobs.schedule_job(db, tryout_id, "remind", str(day), START + day * DAY)


def texts(server: ClassServer, room: Room) -> list[str]:
    """What the bot said in a room, oldest first."""
    return [
        message.content
        for message in room.messages.values()
        if not message.deleted and message.kind == 0 and message.author_id == server.world.bot.id
    ]


@pytest.mark.parametrize(
    "faults",
    [
        None,
        FaultInjection(1, (LIMITS, ERRORS, DROPS, CLOSED_DM), rates={CLOSED_DM: 0.7, ERRORS: 0.06}),
        FaultInjection(2, (LIMITS, ERRORS, CLOSED_DM), rates={CLOSED_DM: 1.0, ERRORS: 0.06, LIMITS: 0.1}),
    ],
    ids=["calm", "faults 1", "faults 2"],
)
async def test_ten_days_of_post_arrive_once_each_within_the_platforms_rules(
    tmp_path: Path, faults: FaultInjection | None
) -> None:
    server = ClassServer(START - DAY, faults=faults)
    for channel in ROOM_KINDS:
        server.world.add_channel(channel)
    for name in ["Ms Holloway", "Judge 1", "Judge 2", *(f"Student {n}{letter}" for n in "123" for letter in "ab")]:
        server.world.add_person(name)
    server.world.timeline.move_to(START)
    async with server, connected(server) as client, new_store(tmp_path / "tenbell.db") as store:
        await found(store, server)
        if faults is not None:
            faults.closed([server.world.person("Judge 1"), server.world.person("Judge 2")])
        async with open_stepped_clock(server.clock_address) as clock, DeliveryLoop(client, store, clock) as opened:
            store.on_commit(opened.wake)
            clock.settle_with(opened.quiet)
            await server.clock.step_to(START + (DAYS + 1) * DAY)
    _check(server)


def _check(server: ClassServer) -> None:
    world = server.world
    assert texts(server, world.room("news")) == ["Another day has gone."] * DAYS
    assert texts(server, world.room("signup")) == [f"board/1: day {DAYS}"]
    assert [message.pinned for message in world.room("signup").messages.values() if message.content] == [True]
    for number in (1, 2, 3):
        room = world.room(f"squad {number} - Squad {number}")
        assert Counter(texts(server, room)) == Counter(["Welcome.", "Time is up.", f"squad/{number}: day {DAYS}"])
        members = {world.people[person].name for person in room.members}
        assert members == {"Tenbell", "Ms Holloway", f"Student {number}a", f"Student {number}b"}
    for number in (1, 2):
        judge = world.person(f"Judge {number}")
        room = world.direct_room(judge) if judge.dms_open else world.room(f"judge Judge {number}")
        assert texts(server, room) == ["Thank you.", f"judge/{number}: day {DAYS}"]
        assert judge.id in room.members
    closed = sum(not world.person(f"Judge {number}").dms_open for number in (1, 2))
    assert len(texts(server, world.room("office"))) == closed
    threads = [room.name for room in world.rooms.values() if room.is_thread]
    assert len(threads) == len(set(threads)) == 3 + closed
    assert server.request_log.violations == []
