"""Try-outs with many squads, written straight into the database: everything in them is shown already."""

from datetime import UTC, datetime, timedelta

from bot.rules.squads.join_and_link_codes import join_code
from bot.rules.squads.names import name_keys
from bot.words.plan.builtin_plan import builtin_plan
from deploy.rehearsal.server.class_server import ClassServer
from storage.store import Store
from storage.tables import live_messages, squad_room_members, tryouts
from storage.tables.sql_session import Transaction, stamp
from tests.bench.school import SECTIONS, student

MEMBERS = 3
_SQUAD = (
    "INSERT INTO squad (id, tryout_id, number, name, folded, skeleton, written_look, section, join_code, created_at, "
    "captain_id, room_id, room_outdated) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 0)"
)
_STUDENT = (
    "INSERT INTO student (id, tryout_id, platform_id, name, section, squad_id, joined_at) VALUES (?, ?, ?, ?, ?, ?, ?)"
)


async def fill_class(store: Store, server: ClassServer, squads: int) -> None:
    """Squads of three in the try-out of a class server, each with its room; the students are those of the school."""
    world = server.world
    parent, people = world.room("squads"), {student(number): 0 for number in range(squads * MEMBERS)}
    people = {person.name: person.id for person in world.people.values() if person.name in people}
    threads = [world.add_thread(parent, world.bot, f"Squad {number}").id for number in range(squads)]
    accounts = [people[student(number)] for number in range(squads * MEMBERS)]
    async with store.write() as db:
        tryout = await tryouts.running(db, world.guild_id)
        assert tryout is not None
        await _squads(db, tryout.id, threads, accounts)


async def fill_other_servers(store: Store, count: int, squads: int) -> None:
    """As many more class servers, each with a try-out in sign-up and its squads."""
    now = datetime.now(UTC)
    async with store.write() as db:
        for number in range(1, count + 1):
            brief = (now + timedelta(days=3, minutes=number)).replace(tzinfo=None, microsecond=0)
            tryout_id = await tryouts.create(db, number, builtin_plan(brief, "UTC", SECTIONS), now)
            await tryouts.set_state(db, tryout_id, "signup")
            accounts = [number * 1_000_000 + place for place in range(squads * MEMBERS)]
            await _squads(db, tryout_id, [number * 1_000 + place for place in range(squads)], accounts)
            for key in ("signup", "roster/1"):
                await live_messages.place(db, tryout_id, key, "signup")
            await db.run("UPDATE live_message SET stale = 0 WHERE tryout_id = ?", tryout_id)


async def _squads(db: Transaction, tryout_id: int, threads: list[int], accounts: list[int]) -> None:
    first = int(await db.value("SELECT coalesce(max(id), 0) + 1 FROM squad"))
    seat = int(await db.value("SELECT coalesce(max(id), 0) + 1 FROM student"))
    at, ids = stamp(datetime.now(UTC)), range(first, first + len(threads))
    of = [SECTIONS[number % len(SECTIONS)] for number in range(len(threads))]
    names = [f"Squad {number:03}" for number in range(1, len(threads) + 1)]
    await db.run_many(
        _SQUAD,
        [
            (
                *(one, tryout_id, number + 1, names[number], *name_keys(names[number]), of[number]),
                *(join_code(number), at, seat + number * MEMBERS, threads[number]),
            )
            for number, one in enumerate(ids)
        ],
    )
    await db.run_many(
        _STUDENT,
        [
            (seat + place, tryout_id, account, f"Student {place}", of[place // MEMBERS], first + place // MEMBERS, at)
            for place, account in enumerate(accounts)
        ],
    )
    await squad_room_members.adjust_seats(db, ids)
    await db.run("UPDATE room_seat SET present = wanted")
