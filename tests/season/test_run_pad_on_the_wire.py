"""A run with the real bot: killed between taps, presses delivered twice, and found again with clock and count."""

from __future__ import annotations

import asyncio
import re
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.rules.squads.join_and_link_codes import join_code
from bot.rules.squads.names import name_keys
from bot.words.plan.builtin_plan import builtin_plan
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, Outcome
from deploy.rehearsal.season.bot_process import BotProcess
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.platform_faults import Fault
from deploy.rehearsal.wire.rendering import Shown
from deploy.rehearsal.wire.request_bodies import Body
from deploy.rehearsal.world.permission_bits import MANAGE_GUILD
from storage.migrate import migrate
from storage.records.tryout import ROOM_KINDS
from storage.store import Store
from storage.tables import helpers, squads, tryouts

pytestmark = [
    pytest.mark.season,
    pytest.mark.skipif(sys.platform == "win32", reason="killing a process is a matter of POSIX signals"),
]
START = datetime(2027, 1, 25, 21, 0, tzinfo=UTC)
COACH, KEEPER = "Ms Holloway", "Mr Reed"
SQUADS = ("Crooked Spoons", "Muddy Teapots")


class Table:
    """The class server, the bot, and a scorekeeper's phone."""

    def __init__(self, server: ClassServer, bot: BotProcess) -> None:
        self.server, self.bot = server, bot
        self.phone = Phone(server, KEEPER)

    async def rest(self, **time: float) -> None:
        """Time passes."""
        await self.server.clock.step_to(self.server.clock.now + timedelta(**(time or {"seconds": 2})))

    @asynccontextmanager
    async def without_a_network(self, seconds: float) -> AsyncIterator[None]:
        """The bot's line is dead both ways for so long, by the clock on the wall of the class; then it comes back."""
        gateway, hooks = self.server.gateway, self.server.rest.hooks
        gateway.down, hooks.before = True, _lost
        until = self.server.clock.now + timedelta(seconds=seconds)
        await gateway.cut()
        try:
            yield
            await self.server.clock.step_to(until)
        finally:
            gateway.down, hooks.before = False, None
        await asyncio.wait_for(gateway.identified.wait(), 120)
        await self.rest()

    async def at_intervals(self, seconds: float, *acts: Act) -> list[Outcome]:
        """Do one act after the other without waiting for an answer, and then read what came of each."""
        for act in acts:
            act.begin()
            await self.server.clock.step_to(self.server.clock.now + timedelta(seconds=seconds))
        await asyncio.gather(*(act.wait() for act in acts))
        return [act.outcome() for act in acts]

    async def table(self) -> Shown:
        """The table, opened anew."""
        doors = (await self.phone.command("/my-squad", room="news")).shown()
        return (await self.phone.press(doors, "Table")).shown()

    async def pad(self, squad: str = "1 Crooked Spoons") -> Shown:
        """The run pad of a squad, as somebody finds it who has lost the message."""
        opened = await self.table()
        again = next((label for label in opened.labels if label == f"Run pad of {squad}"), None)
        if again is not None:
            return (await self.phone.press(opened, again)).shown()
        listed = (await self.phone.choose(opened, 0, "Sock run: Socks in the basket")).shown()
        card = (await self.phone.choose(listed, 0, squad)).shown()
        return (await self.phone.press(card, "Run pad")).shown()


async def _lost(_route: str, _body: Body) -> Fault:
    return Fault(reset_before=True)


@pytest.fixture
async def table(tmp_path: Path) -> AsyncIterator[Table]:
    """An event day with two squads; a scorekeeper stands at the table."""
    async with ClassServer(START) as server:
        coaches = server.world.add_role("Coaches", MANAGE_GUILD)
        server.world.add_person(COACH, coaches, owner=True)
        server.world.add_person(KEEPER)
        for kind in ROOM_KINDS:
            server.world.add_channel(kind)
        database = tmp_path / "tenbell.db"
        migrate(database)
        async with Store.open(database) as store, store.write() as db:
            plan = builtin_plan((START - timedelta(days=14)).replace(tzinfo=None), "UTC", ("7-A",))
            run = plan.events[0].model_copy(update={"cautions": (), "least_present": None})
            plan = plan.model_copy(update={"events": (run, *plan.events[1:])})
            tryout_id = await tryouts.create(db, server.world.guild_id, plan, START)
            for kind in ROOM_KINDS:
                await tryouts.set_room(db, tryout_id, kind, server.world.room(kind).id)
            await tryouts.set_state(db, tryout_id, "judging")
            await helpers.add_officer(db, tryout_id, server.world.person(KEEPER).id, KEEPER, "scorekeeper")
            for number, name in enumerate(SQUADS):
                await squads.add_squad(db, tryout_id, name, name_keys(name), "7-A", join_code(number), START)
        bot = BotProcess(server, database, tmp_path / "bot.log")
        await bot.start()
        yield Table(server, bot)
        await bot.kill()
        assert server.request_log.violations == []


def count(shown: Shown) -> int:
    found = re.search(r"Sock \*\*(\d+)\*\*", shown.text)
    assert found, shown.text
    return int(found[1])


def started(shown: Shown) -> str:
    return next(line for line in shown.text.splitlines() if line.startswith("Started at"))


async def test_taps_are_kept_through_a_kill_between_any_two_of_them(table: Table) -> None:
    pad = await table.pad()
    pad = (await table.phone.press(pad, "Start the clock")).shown()
    clock = started(pad)
    for taps in (1, 2):
        pad = (await table.phone.press(pad, "+1 Sock")).shown()
        assert count(pad) == taps
        await table.bot.kill()
        await table.bot.start()
        await table.rest()
    found = await table.pad()
    assert (count(found), started(found)) == (2, clock)


async def test_a_tap_that_the_platform_delivers_twice_is_one_and_the_count_is_saved_as_it_was_read_back(
    table: Table,
) -> None:
    pad = await table.pad()
    pad = (await table.phone.press(pad, "+1 Sock").twice()).shown()
    assert count(pad) == 1
    await table.rest(seconds=20)
    await table.bot.kill()
    await table.bot.start()
    await table.rest()
    pad = (await table.phone.press(pad, "+1 Sock")).shown()
    finished = (await table.phone.press(pad, "Finish")).shown()
    saved = (await table.phone.press(finished, "Counted aloud, agreed: save").twice()).shown()
    assert "2 socks x 10 = 20 points" in saved.text


async def test_twenty_seconds_without_a_network_lose_no_tap_double_none_and_leave_clocks_right(
    table: Table,
) -> None:
    other = await table.pad("2 Muddy Teapots")
    pad = await table.pad()
    pad = (await table.phone.press(pad, "Start the clock")).shown()
    pad = (await table.phone.press(pad, "+1 Sock")).shown()
    await table.rest()
    began = table.server.clock.now + timedelta(seconds=12)
    async with table.without_a_network(20):
        taps = [table.phone.press(pad, "+1 Sock") for _ in range(3)]
        outcomes = await table.at_intervals(4, *taps, table.phone.press(other, "Start the clock"))
        assert all(outcome.failed for outcome in outcomes)
    # What was pressed came through late: it is kept once, and the pad says what the phone could not know.
    found = await table.pad()
    assert count(found) == 4
    assert "3 presses came through late and count" in found.text
    assert started(found) == started(pad)
    # A start counts from its press, and not from when it arrived; so does the end of the run.
    late = await table.pad("2 Muddy Teapots")
    assert f"Started at <t:{int(began.timestamp())}:T>" in late.text
    assert f"<t:{int((began + timedelta(seconds=180)).timestamp())}:T>" in late.text
    # What is pressed now is one more, and what was one too many is undone.
    pad = (await table.phone.press(found, "+1 Sock")).shown()
    assert count(pad) == 5
    for left in (4, 3):
        pad = (await table.phone.press(pad, "Undo my last")).shown()
        assert count(pad) == left
    finished = (await table.phone.press(pad, "Finish")).shown()
    assert "2 presses came through late" in finished.text
    saved = (await table.phone.press(finished, "Counted aloud, agreed: save")).shown()
    assert "3 socks x 10 = 30 points" in saved.text


async def test_ten_taps_in_twenty_seconds_over_a_bad_network_lose_none(table: Table) -> None:
    """Every other tap meets a line that breaks, an answer that is lost on the way, or an event that comes twice."""
    lost = iter((True, False) * 20)

    async def bad(route: str, _body: Body) -> Fault | None:
        return Fault(reset_before=True) if "callback" in route and next(lost, False) else None

    pad = await table.pad()
    pad = (await table.phone.press(pad, "Start the clock")).shown()
    table.server.rest.hooks.before = bad
    acts = [table.phone.press(pad, "+1 Sock") for _ in range(10)]
    for number, act in enumerate(acts):
        if number in {3, 6}:
            await table.server.gateway.cut()
        if number in {1, 7}:
            act.twice()
        act.begin()
        await table.rest(seconds=2)
    table.server.rest.hooks.before = None
    await asyncio.gather(*(act.wait() for act in acts))
    await table.rest()
    assert count(await table.pad()) == 10
