"""The event day: four run pads in use while messages go out, and a timetable of a large day."""

import asyncio
import time
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Outcome, together
from deploy.rehearsal.wire.rendering import Shown
from storage.store import Store
from storage.tables import helpers, tryouts
from tests.bench.judging_school import judging_school, messages_left
from tests.bench.report import Line, at_most, percentile
from tests.bench.timed_programs import BOT, running
from tests.rehearsal.wire import until
from tests.rules.event_day.days import day

KEEPERS = tuple(f"Keeper {number}" for number in range(1, 5))
JUDGES = 12
"""Who wait for squads meanwhile."""
TAPS = 30
"""Of each pad, all pads at the same instants."""


def lines(quick: bool = False) -> Iterator[Line]:
    """How long a tap takes, and a timetable."""
    yield _timetable()
    yield from asyncio.run(_measure(8 if quick else TAPS))


def _timetable() -> Line:
    from bot.rules.event_day.timetable import make_timetable

    began = time.monotonic()
    found = make_timetable(day(40, 5, 2, 3))
    seconds = time.monotonic() - began
    slots = len(found or ())
    what = "timetable of 40 squads, 2 tables, 3 panels"
    return at_most(what, f"{seconds:.2f} s, {slots} slots", seconds if slots else 99, 5, "at most 5 s")


async def _measure(taps: int) -> list[Line]:
    with TemporaryDirectory() as folder:
        database = Path(folder) / "tenbell.db"
        async with judging_school(database, JUDGES) as server:
            for name in KEEPERS:
                server.world.add_person(name)
            async with Store.open(database) as store, store.write() as db:
                tryout = await tryouts.running(db, server.world.guild_id)
                assert tryout is not None
                for name in KEEPERS:
                    await helpers.add_officer(db, tryout.id, server.world.person(name).id, name, "scorekeeper")
            async with running(server, BOT, Path(folder)):
                phones = [Phone(server, name) for name in KEEPERS]
                pads = [await _pad(phone, number) for number, phone in enumerate(phones)]
                answers: list[Outcome] = []
                waiting = await messages_left(database)
                for _ in range(taps):
                    tapped = await together(
                        *(phone.press(shown, "+1 Sock") for phone, shown in zip(phones, pads, strict=True))
                    )
                    answers += tapped
                    pads = [outcome.shown() for outcome in tapped]
                left = await messages_left(database)
    times = [float("inf") if one.ack_ms is None else one.ack_ms for one in answers]
    p50, p99, most = (percentile(times, percent) for percent in (50, 99, 100))
    right = sum(f"Sock **{taps}**" in shown.text for shown in pads)
    measured = f"p50 {p50:.0f} ms, p99 {p99:.0f} ms, max {most:.0f} ms, of {len(times)}"
    return [
        at_most(f"{len(KEEPERS)} run pads are tapped at once", measured, p99, 300, "p99 at most 0.3 s"),
        Line("  messages that waited meanwhile", f"{waiting} at the first tap, {left} after the last"),
        Line("  pads whose count is right", f"{right} of {len(pads)}", "all", right == len(pads)),
    ]


async def _pad(phone: Phone, number: int) -> Shown:
    """The run pad of the squad with this place in the list, once the platform knows the commands."""
    await until(lambda: "/my-squad" in phone.commands("news"))
    doors = (await phone.command("/my-squad", room="news")).shown()
    opened = (await phone.press(doors, "Table")).shown()
    listed = (await phone.choose(opened, 0, opened.selects[0].options[0].label)).shown()
    card = (await phone.choose(listed, 0, listed.selects[0].options[number].label)).shown()
    return (await phone.press(card, "Run pad")).shown()
