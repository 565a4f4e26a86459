"""A class of any size in the middle of its try-out, written straight into the tables, and what a press costs there."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from typing import Any

from bot.actions.core.dispatch import ACTIONS, perform
from bot.actions.core.live_messages import compose
from bot.actions.hand_in.member_parts import place_part_messages
from bot.actions.judging.judges_admin import enrol
from bot.actions.judging.open_judging import open_judging
from bot.rules.squads.join_and_link_codes import join_code
from bot.rules.squads.names import name_keys
from bot.words.core.custom_ids import split
from storage.records.message import Answer, Message
from storage.records.plan import Calendar, Plan, Practice
from storage.records.request import Request
from storage.records.tryout import ROOM_KINDS, State
from storage.store import Store
from storage.tables import helpers, judges, live_messages, surprises, tryouts
from storage.tables.sql_session import Transaction, stamp
from tests.actions.conftest import COACH, SERVER, START, small_plan
from tests.actions.hand_in_cast import BRIEF, handing_in
from tests.databases import at_once, new_database

MEMBERS = 3
JUDGES = 6
NOW = BRIEF + timedelta(hours=1)
FIRST_TURN = datetime(2027, 1, 12, 17, 10, tzinfo=UTC)  # 12:10 in New York, on day 1
_SQUAD = "INSERT INTO squad (tryout_id, number, name, folded, skeleton, written_look, section, join_code, room_id, "
_SQUAD += "created_at, captain_id) VALUES (?, ?, ?, ?, ?, ?, '7-A', ?, ?, ?, ?)"
_STUDENT = "INSERT INTO student (id, tryout_id, platform_id, name, section, squad_id, joined_at) "
_STUDENT += "VALUES (?, ?, ?, ?, '7-A', ?, ?)"


@dataclass(frozen=True)
class Cost:
    """What something took."""

    transactions: int
    """Changes of the database that are committed together."""
    statements: int
    """SQL that was run, reading included; the frame of a transaction is not counted."""
    snapshots: int = field(default=0, compare=False)
    """Moments at which something was only read."""


@dataclass
class LargeClass:
    """A class with so many squads of three; the last has a free seat, and nobody who has one has a turn."""

    store: Store
    squads: int
    run: list[str] = field(default_factory=list)
    now: datetime = NOW
    last_id: int = 1000

    def member(self, number: int, place: int = 0) -> int:
        """The account of a member of a squad; 0 is the captain."""
        return 10_000 + number * 10 + place

    async def ask(self, key: str, who: int = COACH, **more: Any) -> Answer:
        """Ask the actions, as the router would."""
        action, args = split(key)
        assert action is not None, key
        self.last_id += 1
        self.now += timedelta(seconds=1)
        values: dict[str, Any] = {"server_id": SERVER, "name": f"Person {who}", "manages_server": who == COACH} | more
        request = Request(id=self.last_id, at=self.now, who=who, args=args, **values)
        return await perform(self.store, ACTIONS[action], request)

    async def compose(self, key: str) -> Message | None:
        """What a live message shows."""
        async with self.store.read() as db:
            tryout = await tryouts.running(db, SERVER)
            assert tryout is not None
            return await compose(db, tryout, key)

    async def stale(self) -> set[str]:
        """The live messages that delivery would have to look at."""
        async with self.store.read() as db:
            return {one.key for one in await live_messages.open_live_messages(db)}

    async def all_shown(self) -> None:
        """Delivery has shown everything."""
        async with self.store.write() as db:
            await db.run("UPDATE live_message SET stale = 0, message_id = id, room_id = 50")
            await db.run("UPDATE outbox_message SET state = 'sent'")

    def cost(self) -> Cost:
        """What has been run since this was last asked."""
        frame = ("BEGIN", "COMMIT", "SAVEPOINT", "RELEASE", "ROLLBACK")
        found = Cost(
            transactions=sum(sql == "SAVEPOINT outer" for sql in self.run),
            statements=sum(not sql.startswith(frame) for sql in self.run),
            snapshots=self.run.count("BEGIN"),
        )
        self.run.clear()
        return found


def plan() -> Plan:
    """The small plan with everything that squads do in the window, in which they may also still change."""
    return small_plan(
        **handing_in(),
        practice=Practice(times=(time(12, 10), time(15, 40))),
        calendar=Calendar(brief=datetime(2027, 1, 11, 15, 30), signup_closes=datetime(2027, 1, 14, 15, 30)),  # noqa: DTZ001
    )


@asynccontextmanager
async def large_class(path: Path, count: int, state: State = "window") -> AsyncIterator[LargeClass]:
    """A class of so many squads: in the window an hour after the brief, or later, all that is due then in place."""
    run: list[str] = []
    async with Store.open(new_database(path), durable=False, trace=run.append, connect=at_once) as store:
        found = LargeClass(store, count, run)
        async with store.write() as db:
            await _fill(db, found, state)
        await found.all_shown()
        found.run.clear()
        yield found


async def _fill(db: Transaction, found: LargeClass, state: State) -> None:
    tryout_id = await tryouts.create(db, SERVER, plan(), START)
    for number, kind in enumerate(ROOM_KINDS):
        await tryouts.set_room(db, tryout_id, kind, 50 + number)
    await tryouts.set_state(db, tryout_id, "window")
    await tryouts.freeze(db, tryout_id, "0" * 64, BRIEF)
    await helpers.add_officer(db, tryout_id, COACH, "Coach", "coach")
    at = stamp(START)
    numbers = range(1, found.squads + 1)
    people = [(squad, place) for squad in numbers for place in range(MEMBERS - (squad == found.squads))]
    await db.run_many(
        _SQUAD,
        [
            (tryout_id, one, name, *name_keys(name), join_code(one), 9000 + one, at, None)
            for one in numbers
            for name in (f"Squad {one:03}",)
        ],
    )
    await db.run_many(
        _STUDENT,
        [
            (squad * 10 + place, tryout_id, found.member(squad, place), f"Student {squad} {place}", squad, at)
            for squad, place in people
        ],
    )
    await db.run("UPDATE squad SET captain_id = id * 10")
    for key in ("signup", "brief", "rules", *(f"roster/{number}" for number in range(1, 80))):
        await live_messages.place(db, tryout_id, key, "signup")
    tryout = await tryouts.get(db, tryout_id)
    await place_part_messages(db, tryout, numbers)
    for squad in numbers:
        await live_messages.place(db, tryout_id, f"practice/{squad}", f"squad/{squad}")
    for number in range(1, JUDGES + 1):
        judge_id = await enrol(db, tryout_id, 200 + number, f"Judge {number}")
        await judges.opt_in(db, judge_id, f"Judge {number}", START)
        await live_messages.place(db, tryout_id, f"judge/{judge_id}", f"judge/{judge_id}")
    if state != "window":
        await surprises.start(db, tryout_id, "chain", NOW)
        await tryouts.set_state(db, tryout_id, "judging")
        await open_judging(db, tryout.model_copy(update={"state": "judging"}), NOW, {})
        await tryouts.set_state(db, tryout_id, state)
