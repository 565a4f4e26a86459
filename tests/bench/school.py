"""A class server with a try-out in sign-up, ready to be pressed: people, rooms and the bot's database."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from itertools import product
from pathlib import Path

from bot.actions.core.rescheduling import reschedule
from bot.words.plan.builtin_plan import builtin_plan
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.platform_faults import FaultInjection
from deploy.rehearsal.world.permission_bits import MANAGE_GUILD
from storage.migrate import migrate
from storage.records.tryout import ROOM_KINDS
from storage.store import Store
from storage.tables import helpers, live_messages, tryouts

SECTIONS = ("7-A", "7-B", "7-C", "8-A", "8-B")
_FIRST = ("Amber", "Basalt", "Cinder", "Dusty", "Ember", "Flint", "Granite", "Hollow", "Indigo", "Jasper",
          "Karst", "Lemon", "Mossy", "Nimble", "Ochre")  # fmt: skip
_SECOND = ("Moles", "Wrens", "Foxes", "Carrots", "Doughnuts", "Raisins", "Badgers", "Herons", "Otters", "Spoons")


def names(count: int) -> list[str]:
    """Invented squad names that no two can mix up.

    Raises:
        ValueError: there are not that many.
    """
    found = [f"{first} {second}" for first, second in product(_FIRST, _SECOND)]
    if count > len(found):
        raise ValueError(f"{count} names; there are {len(found)}")
    return found[:count]


def class_server(students: int = 0, faults: FaultInjection | None = None, now: datetime | None = None) -> ClassServer:
    """A class server with its rooms, a coach, and so many students, at the present moment unless another is given."""
    server = ClassServer(now or datetime.now(UTC), faults=faults)
    coaches = server.world.add_role("Coaches", MANAGE_GUILD)
    server.world.add_person("Ms Holloway", coaches, owner=True)
    for kind in ROOM_KINDS:
        server.world.add_channel(kind)
    for number in range(students):
        server.world.add_person(student(number))
    return server


def student(number: int) -> str:
    """The name of a student."""
    return f"Student {number:03}"


async def open_signup(server: ClassServer, database: Path, sections: Sequence[str] = SECTIONS) -> None:
    """Fill a new database with a try-out whose sign-up has just been opened, in the rooms of the class server."""
    migrate(database)
    now = datetime.now(UTC)
    brief = (now + timedelta(days=3)).replace(tzinfo=None, microsecond=0)
    async with Store.open(database) as store, store.write() as db:
        plan = builtin_plan(brief, "UTC", tuple(sections))
        tryout_id = await tryouts.create(db, server.world.guild_id, plan, now)
        for kind in ROOM_KINDS:
            await tryouts.set_room(db, tryout_id, kind, server.world.room(kind).id)
        await tryouts.set_state(db, tryout_id, "signup")
        await helpers.add_officer(db, tryout_id, server.world.owner_id, "Ms Holloway", "coach")
        await live_messages.place(db, tryout_id, "signup", "signup", pinned=True)
        await reschedule(db, tryout_id, now)
