"""What the checks of the office share: a class that signs up, and a clock that is moved on."""

from datetime import UTC, datetime, timedelta

import bot.actions.calendar.brief
import bot.actions.office.digest
import bot.actions.office.helpers
import bot.actions.office.office
import bot.actions.office.server_channels
import bot.actions.office.stop_or_put_away
import bot.actions.plan.begin_tryout
import bot.actions.plan.edit_plan
import bot.actions.privacy.erase_person
import bot.actions.privacy.purge_tryout
import bot.actions.squads.captain
import bot.actions.squads.sign_up
import bot.actions.squads.squads_admin
import bot.actions.squads.students_admin  # noqa: F401
from bot.actions.core.scheduled_jobs import ring
from bot.rules.plan.read_plan import write_plan
from storage.records.message import Message
from storage.records.plan import Plan
from storage.records.request import Room, Upload
from storage.records.scheduled_jobs import ScheduledJob
from storage.tables import scheduled_jobs
from tests.actions.conftest import COACH, Asking, Begin

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)  # 15:30 in New York
DEADLINE = datetime(2027, 1, 21, 20, 30, tzinfo=UTC)
DAY = timedelta(days=1)
ROOMS = {"signup": 50, "news": 51, "squads": 52, "office": 53}


def texts(message: Message) -> list[str]:
    """The labels of a message's buttons, in order."""
    return [part.label for row in message.rows if isinstance(row, tuple) for part in row]


async def choose_rooms(asking: Asking, who: int = COACH, **missing: tuple[str, ...]) -> str:
    """Pick all four channels; what I last read."""
    text = ""
    for kind, room_id in ROOMS.items():
        room = Room(id=room_id, name=kind, missing=missing.get(kind, ()))
        text = (await asking.message(f"setup.room:{kind}", who, values=(str(room_id),), rooms=(room,))).text
    return text


async def make_squad(asking: Asking, first: int, size: int, name: str, section: str = "7-A") -> int:
    """Students `first`, `first + 1` … make a squad; its id."""
    fields = {"squad": name, "name": f"Student {first}", "section": section}
    founded = await asking.message("squad.found", first, fields=fields)
    code = founded.text.split("code: **")[1][:5]
    for who in range(first + 1, first + size):
        await asking.ask("squad.join-by-code", who, fields={"code": code, "name": f"Student {who}"})
    async with asking.store.read() as db:
        return int(await db.value("SELECT id FROM squad WHERE join_code = ?", code))


async def until(asking: Asking, at: datetime) -> None:
    """Let time pass until an instant; everything due by then happens at its own time."""
    while True:
        async with asking.store.read() as db:
            following = await scheduled_jobs.next_job_at(db)
        if following is None or following > at:
            break
        asking.now = max(asking.now, following)
        await ring(asking.store, asking.now)
    asking.now = max(asking.now, at)


async def off_until(asking: Asking, at: datetime) -> None:
    """Let time pass with the bot switched off, then switch it on."""
    asking.now = at
    await ring(asking.store, at)


async def planned(asking: Asking, kind: str = "") -> list[ScheduledJob]:
    """What is planned, or has been, of one kind or of all."""
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        return [row for row in await scheduled_jobs.jobs_of(db, tryout.id) if kind in ("", row.kind)]


def minutes(number: int) -> timedelta:
    """So many minutes."""
    return timedelta(minutes=number)


async def window(begin: Begin, **changes: object) -> tuple[Asking, int, int]:
    """A window that has just opened: one squad that owes nothing once it has read, and one that is too small."""
    asking = await begin("drafting", **changes)
    await asking.confirm("signup.open")
    whole = await make_squad(asking, 1, 3, "Crooked Spoons")
    small = await make_squad(asking, 11, 2, "Muddy Teapots")
    await until(asking, BRIEF)
    for who in (1, 2, 3):
        await asking.ask("brief.page:9", who)
    return asking, whole, small


def plan_file(plan: Plan | str) -> dict[str, Upload]:
    """A plan, or the text of one, as it is sent with a form."""
    text = plan if isinstance(plan, str) else write_plan(plan)
    return {"plan": Upload(name="plan.toml", data=text.encode())}
