"""A run with the real bot: killed between taps, presses delivered twice, and found again with clock and count."""

from __future__ import annotations

import re
import sys
from collections.abc import AsyncIterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.rules.squads.join_codes import join_code
from bot.rules.squads.names import name_keys
from bot.words.plan.builtin_plan import builtin_plan
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.season.bot_process import BotProcess
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.rendering import Shown
from deploy.rehearsal.world.permission_bits import MANAGE_GUILD
from storage.migrate import migrate
from storage.records.tryout import ROOM_KINDS
from storage.store import Store
from storage.tables import squads, tryouts

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

    async def table(self) -> Shown:
        """The table, opened anew."""
        doors = (await self.phone.command("/my-squad", room="news")).shown()
        return (await self.phone.press(doors, "Table")).shown()

    async def pad(self) -> Shown:
        """The run pad of the first squad, as somebody finds it who has lost the message."""
        opened = await self.table()
        again = next((label for label in opened.labels if label.startswith("Run pad of")), None)
        if again is not None:
            return (await self.phone.press(opened, again)).shown()
        listed = (await self.phone.choose(opened, 0, "Sock run: Socks in the basket")).shown()
        card = (await self.phone.choose(listed, 0, "1 Crooked Spoons")).shown()
        return (await self.phone.press(card, "Run pad")).shown()


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
            await tryouts.add_officer(db, tryout_id, server.world.person(KEEPER).id, KEEPER, "scorekeeper")
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
