"""A judge's evening with the real bot: kills between any two presses, two deliveries, closed direct messages."""

from __future__ import annotations

import sys
from collections.abc import AsyncIterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.actions.judging.judges_admin import enrol
from bot.rules.squads.join_and_link_codes import join_code
from bot.rules.squads.names import name_keys
from bot.words.plan.builtin_plan import builtin_plan
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.season.bot_process import BotProcess
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.rendering import Shown
from deploy.rehearsal.world.permission_bits import MANAGE_GUILD
from deploy.rehearsal.world.state import DIRECT_MESSAGES
from storage.migrate import migrate
from storage.records.tryout import ROOM_KINDS
from storage.store import Store
from storage.tables import judges, score_sheets, squads, tryouts
from tests.season.kinds_played_elsewhere import ON_TWO_CLASS_SERVERS

pytestmark = [
    pytest.mark.season,
    pytest.mark.skipif(sys.platform == "win32", reason="killing a process is a matter of POSIX signals"),
]
START = datetime(2027, 1, 25, 21, 0, tzinfo=UTC)
COACH, ADA, BEN = "Ms Holloway", "Ada Quill", "Ben Marrow"
SQUADS = ("Crooked Spoons", "Muddy Teapots", "Sleepy Turnips")
LIST = "Your score sheets"
OTHER, FAR = "Reserve team try-out", "Faraway Forks"


@dataclass
class Evening:
    """The class server, the bot, and what people do."""

    server: ClassServer
    bot: BotProcess
    database: Path

    def phone(self, name: str) -> Phone:
        return Phone(self.server, name)

    async def rest(self, **time: float) -> None:
        """Time passes, and the bot does what is due."""
        await self.server.clock.step_to(self.server.clock.now + timedelta(**(time or {"seconds": 10})))

    async def power_cut(self) -> None:
        """The bot is killed and started again."""
        await self.bot.kill()
        await self.bot.start()
        await self.rest()

    def my_sheets(self, name: str, room: str = DIRECT_MESSAGES) -> Shown:
        """A judge's living list."""
        return next(shown for shown in reversed(self.phone(name).see(room)) if LIST in shown.text)

    async def mark(self, name: str, shown: Shown, label: str, level: int) -> Outcome:
        """Press a button that opens a sheet, and mark every line of the form with one level."""
        form = (await self.phone(name).press(shown, label)).opened()
        return await self.phone(name).fill(form, levels(form, level))

    async def marks(self, name: str) -> list[tuple[str, str]]:
        """State and marks of a judge's sheets, as they stand in the file."""
        async with Store.open(self.database, readers=1) as store, store.read() as db:
            rows = await db.rows(
                "SELECT state, marks_json FROM sheet JOIN judge ON judge.id = judge_id WHERE platform_id = ? "
                "ORDER BY position",
                self.server.world.person(name).id,
            )
        return [(row["state"], row["marks_json"]) for row in rows]


def levels(form: Form, level: int) -> dict[str, str]:
    return {field.label: field.options[level - 1].label for field in form.fields if field.options}


def label(shown: Shown, begins: str) -> str:
    return next(one for one in shown.labels if one.startswith(begins))


@pytest.fixture
async def evening(tmp_path: Path) -> AsyncIterator[Evening]:
    """Judging, with three squads; the coach has asked two judges, and both have agreed."""
    async with ClassServer(START) as server:
        coaches = server.world.add_role("Coaches", MANAGE_GUILD)
        server.world.add_person(COACH, coaches, owner=True)
        for name in (ADA, BEN):
            server.world.add_person(name)
        for kind in ROOM_KINDS:
            server.world.add_channel(kind)
        database = tmp_path / "tenbell.db"
        await _prepare(server, database)
        bot = BotProcess(server, database, tmp_path / "bot.log")
        await bot.start()
        evening = Evening(server, bot, database)
        coach = evening.phone(COACH)
        panel = (await coach.command("/judges", room="office")).shown()
        await coach.choose(panel, "Add judges", [ADA, BEN])
        await evening.rest()
        for name in (ADA, BEN):
            phone = evening.phone(name)
            await phone.press(phone.with_button("news", "Start judging"), "Start judging")
        await evening.rest()
        yield evening
        await bot.kill()
        assert server.request_log.violations == []


async def _prepare(server: ClassServer, database: Path) -> None:
    migrate(database)
    async with Store.open(database) as store, store.write() as db:
        brief = (START - timedelta(days=14)).replace(tzinfo=None)
        plan = builtin_plan(brief, "UTC", ("7-A",))
        tryout_id = await tryouts.create(db, server.world.guild_id, plan, START)
        for kind in ROOM_KINDS:
            await tryouts.set_room(db, tryout_id, kind, server.world.room(kind).id)
        await tryouts.set_state(db, tryout_id, "judging")
        for number, name in enumerate(SQUADS):
            await squads.add_squad(db, tryout_id, name, name_keys(name), "7-A", join_code(number), START)


async def open_patch(evening: Evening) -> None:
    coach = evening.phone(COACH)
    panel = (await coach.command("/judges", room="office")).shown()
    asked = (await coach.press(panel, "Open for judging")).shown()
    await coach.choose(asked, 0, "Bunting")
    await evening.rest()


async def test_a_judge_marks_on_through_a_kill_between_any_two_presses(evening: Evening) -> None:
    await open_patch(evening)
    ada = evening.phone(ADA)
    shown = evening.my_sheets(ADA)
    assert "0 of 3" in shown.text
    await evening.power_cut()
    form = (await ada.press(shown, label(shown, "Next: "))).opened()
    assert form.title.endswith("(1 of 2)")
    await evening.power_cut()
    shown = (await ada.fill(form, levels(form, 3))).shown()
    assert "3 of 5 marked" in shown.text
    await evening.power_cut()
    form = (await ada.press(shown, label(shown, "Go on: "))).opened()
    assert form.title.endswith("(2 of 2)")
    await evening.power_cut()
    shown = (await ada.fill(form, levels(form, 4))).shown()
    await evening.power_cut()
    assert "1 of 3" in evening.my_sheets(ADA).text.replace("*", "")
    assert (await evening.marks(ADA))[0] == (
        "submitted",
        '{"drafts": 4, "explain": 4, "idea": 3, "reasons": 3, "robot": 3}',
    )
    assert evening.bot.kills == 5


async def test_a_form_sent_twice_by_the_platform_is_one_answer_and_one_version(evening: Evening) -> None:
    await open_patch(evening)
    ada, shown = evening.phone(ADA), evening.my_sheets(ADA)
    form = (await ada.press(shown, label(shown, "Next: "))).opened()
    assert not (await ada.fill(form, levels(form, 2)).twice()).failed
    async with Store.open(evening.database, readers=1) as store, store.read() as db:
        assert await db.value("SELECT count(*) FROM sheet_version") == 1


async def test_a_judge_types_marks_and_is_answered_in_the_direct_messages(evening: Evening) -> None:
    await open_patch(evening)
    ada = evening.phone(ADA)
    answer = (await ada.type_dm("3 4 2")).shown()
    assert "What the pictures mean: **4** of 4" in answer.text
    await evening.power_cut()
    answer = (await ada.type_dm("1 2")).shown()
    assert "this sheet is done" in answer.text
    assert (await evening.marks(ADA))[0][0] == "submitted"
    await evening.rest()
    assert "1 of 3" in evening.my_sheets(ADA).text.replace("*", "")
    assert (await evening.phone(BEN).say("news", "3")).kind == "nothing"


async def test_direct_messages_closed_half_way_are_replaced_by_a_private_room_and_the_coach_is_told(
    evening: Evening,
) -> None:
    await open_patch(evening)
    shown = evening.my_sheets(ADA)
    await evening.mark(ADA, shown, label(shown, "Next: "), 3)
    evening.server.world.person(ADA).dms_open = False
    coach = evening.phone(COACH)
    one = (
        await coach.choose((await coach.command("/judges", room="office")).shown(), "Look at one judge", ADA)
    ).shown()
    asked = (await coach.press(one, "Show, do not count")).shown()
    assert "shown, not counted" in asked.text
    status = (await coach.command("/office", room="office")).shown()
    sure = (await coach.press(status, "Start the surprise")).shown()
    await coach.press(sure, next(one for one in sure.labels if "tart it" in one))
    await evening.rest(minutes=2)
    room = next(name for name in evening.phone(ADA).rooms if "judge" in name.lower())
    told = "\n".join(message.text for message in evening.phone(COACH).see("office"))
    assert "takes no direct messages from me" in told
    my_sheets = evening.my_sheets(ADA, room)
    answer = await evening.mark(ADA, my_sheets, label(my_sheets, "Go on: "), 4)
    assert "5 of 5 marked" in answer.text
    assert (await evening.marks(ADA))[0][0] == "submitted"
    await evening.rest()
    assert "**1 of 6** done" in evening.my_sheets(ADA, room).text
    assert "type in our private messages" not in evening.my_sheets(ADA, room).text
    assert not any(name in evening.phone(BEN).rooms for name in (room,))


async def test_a_judge_removed_half_way_is_told_so_and_nothing_is_saved(evening: Evening) -> None:
    await open_patch(evening)
    ada, coach, shown = evening.phone(ADA), evening.phone(COACH), evening.my_sheets(ADA)
    form = (await ada.press(shown, label(shown, "Next: "))).opened()
    one = (
        await coach.choose((await coach.command("/judges", room="office")).shown(), "Look at one judge", ADA)
    ).shown()
    sure = (await coach.press(one, "Remove")).shown()
    await coach.press(sure, "Yes, remove")
    answer = await ada.fill(form, levels(form, 2))
    assert "Only a judge of this try-out" in answer.text
    assert {marks for _, marks in await evening.marks(ADA)} == {"{}"}


async def test_the_coach_prints_sheets_and_shares_judges_out_on_the_wire(evening: Evening) -> None:
    coach = evening.phone(COACH)
    panel = (await coach.press((await coach.command("/judges", room="office")).shown(), "Panels")).shown()
    panel = (await coach.choose(panel, 0, panel.selects[0].options[0].label)).shown()
    table = (await coach.choose(panel, 0, "2 judges for each squad")).shown()
    assert "Squads for each judge: Ada Quill 3, Ben Marrow 3." in table.text
    await open_patch(evening)
    paper = (await coach.command("/paper", room="office")).shown()
    printed = (await coach.choose(paper, 0, ADA)).shown()
    assert [file.name for file in printed.files] == ["score-sheets-judge-1.pdf"]
    assert coach.download(printed.files[0]).startswith(b"%PDF-")


async def _judges_on_another_class_server(evening: Evening, name: str) -> None:
    """The same bot serves another class server, where one of the judges has a sheet, too."""
    await evening.bot.kill()
    who = evening.server.world.person(name).id
    async with Store.open(evening.database) as store, store.write() as db:
        plan = builtin_plan((START - timedelta(days=14)).replace(tzinfo=None), "UTC", ("7-A",), OTHER)
        other = await tryouts.create(db, evening.server.world.guild_id + 1, plan, START)
        await tryouts.set_state(db, other, "judging")
        squad = await squads.add_squad(db, other, FAR, name_keys(FAR), "7-A", join_code(9), START)
        judge = await enrol(db, other, who, name)
        await judges.opt_in(db, judge, name, START)
        await score_sheets.add_sheets(db, [(judge, squad, "bunting", "flags", 1)])
        await db.run("INSERT INTO judged_event SELECT ?, event, opened_at, closed_at FROM judged_event LIMIT 1", other)
    await evening.bot.start()
    await evening.rest()


async def test_a_judge_of_try_outs_on_two_class_servers_presses_the_one_that_is_meant(evening: Evening) -> None:
    await open_patch(evening)
    await _judges_on_another_class_server(evening, ADA)
    ada = evening.phone(ADA)
    asked = (await ada.type_dm("3 4 2")).shown()
    assert "more than one try-out" in asked.text
    chosen = (await ada.press(asked, OTHER)).shown()
    assert FAR in chosen.text
    saved = (await ada.type_dm("3 4 2 1 1")).shown()
    assert FAR in saved.text and "this sheet is done" in saved.text
    assert sorted(state for state, _ in await evening.marks(ADA)) == ["open", "open", "open", "submitted"]
    assert {custom_id.split(":")[0] for custom_id in evening.server.interactions.custom_ids} >= ON_TWO_CLASS_SERVERS
