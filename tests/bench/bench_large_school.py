"""A class server with 1,000 students and 300 squads, and one process with 200 class servers: presses, memory, start."""

import asyncio
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Outcome, together
from deploy.rehearsal.server.class_server import ClassServer
from storage.store import Store
from tests.bench.bench_presses import sign_up_panel
from tests.bench.filled_school import MEMBERS, fill_class, fill_other_servers
from tests.bench.report import Line, at_most, not_measured, percentile
from tests.bench.school import SECTIONS, class_server, open_signup, student
from tests.bench.timed_programs import BOT, Running, running

STUDENTS, SQUADS = 1_000, 300
SERVERS, SQUADS_EACH = 200, 14
PRESSES = 100
"""By as many students at one instant."""
REST_S = 12.0
"""By then what was needed for a moment is given back."""


def lines(quick: bool = False) -> Iterator[Line]:
    """Both, beside an empty class of one class server in the same run."""
    yield from asyncio.run(_measure())


async def _measure() -> list[Line]:
    found = []
    sizes = (("empty class", 0, 0), (f"{SQUADS} squads, {STUDENTS} students", SQUADS, 0))
    for what, squads, others in (*sizes, (f"{SERVERS} class servers", SQUADS_EACH, SERVERS - 1)):
        async with _school(squads, others) as (server, started):
            found += await _lines(what, server, started, squads)
    return found


@asynccontextmanager
async def _school(squads: int, others: int) -> AsyncIterator[tuple[ClassServer, Running]]:
    with TemporaryDirectory() as folder:
        database = Path(folder) / "tenbell.db"
        async with class_server(STUDENTS) as server:
            await open_signup(server, database)
            async with Store.open(database) as store:
                await fill_class(store, server, squads)
                await fill_other_servers(store, others, SQUADS_EACH)
            async with running(server, BOT, Path(folder)) as started:
                yield server, started


async def _lines(what: str, server: ClassServer, started: Running, squads: int) -> list[Line]:
    seated = [Phone(server, student(number)) for number in range(min(PRESSES, squads * MEMBERS))]
    free = [Phone(server, student(number)) for number in range(squads * MEMBERS, squads * MEMBERS + PRESSES)]
    panel = await sign_up_panel(server, free[0])
    await asyncio.sleep(REST_S)
    memory = started.rss_mib()
    presses = await together(*(phone.press(panel, "Start a squad") for phone in free))
    form = {"Name of your squad": "", "Your section": SECTIONS[0]}
    forms = await together(
        *(
            phone.fill(press.opened(), form | {"Name of your squad": f"Late Crew {number:03}"})
            for number, (phone, press) in enumerate(zip(free, presses, strict=True))
        )
    )
    mine = await together(*(phone.press(panel, "My squad") for phone in seated or free))
    await asyncio.sleep(REST_S)
    afterwards = started.rss_mib()
    founded = sum("is on the board" in one.text for one in forms)
    return [
        Line(f"{what}: start", f"{started.start_s:.2f} s"),
        _memory("  memory at rest", memory),
        _memory("  memory at rest after the presses", afterwards),
        *(
            at_most(f"  {PRESSES} at once: {name}", _waits(found), _p99(found), 1000, "p99 at most 1 s")
            for name, found in (("Start a squad", presses), ("their forms", forms), ("My squad", mine))
        ),
        Line("  squads on the board", f"{founded} of {PRESSES}", "all", founded == PRESSES),
    ]


def _memory(what: str, mib: float | None) -> Line:
    return not_measured(what, "not told here") if mib is None else Line(what, f"{mib:.1f} MiB")


def _p99(found: list[Outcome]) -> float:
    return percentile([float("inf") if one.ack_ms is None else one.ack_ms for one in found], 99)


def _waits(found: list[Outcome]) -> str:
    waits = [float("inf") if one.ack_ms is None else one.ack_ms for one in found]
    return f"p50 {percentile(waits, 50):.0f} ms, p99 {percentile(waits, 99):.0f} ms"
