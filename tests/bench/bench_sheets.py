"""Twelve judges hand in score sheets at the same instants while the delivery worker is busy: how long each waits."""

import asyncio
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Outcome, together
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.rendering import Shown
from deploy.rehearsal.world.state import DIRECT_MESSAGES
from tests.bench.judging_school import SQUADS, judge_names, judging_school, messages_left
from tests.bench.report import Line, at_most, percentile
from tests.bench.timed_programs import BOT, running

JUDGES = 12
"""Who hand in at the same instants."""
STEPS = 2
"""The rubric of the built-in plan takes two forms."""
SHEETS = 5
"""Each judge's, one after the other; all judges press and send at the same instants."""


def lines(quick: bool = False) -> Iterator[Line]:
    """How long the answer to a sheet takes."""
    yield from asyncio.run(_measure(2 if quick else SHEETS))


async def _measure(sheets: int) -> list[Line]:
    with TemporaryDirectory() as folder:
        database = Path(folder) / "tenbell.db"
        async with judging_school(database, JUDGES) as server, running(server, BOT, Path(folder)):
            phones = [Phone(server, name) for name in judge_names(JUDGES)]
            lists = [await _desk(server, phone) for phone in phones]
            answers: list[Outcome] = []
            waiting = await messages_left(database)
            for _ in range(sheets * STEPS):
                opened = await together(
                    *(phone.press(shown, _onward(shown)) for phone, shown in zip(phones, lists, strict=True))
                )
                handed_in = await together(
                    *(phone.fill(one.opened(), _marks(one.opened())) for phone, one in zip(phones, opened, strict=True))
                )
                answers += handed_in
                lists = [outcome.shown() for outcome in handed_in]
            left = await messages_left(database)
    times = [float("inf") if one.ack_ms is None else one.ack_ms for one in answers]
    p50, p99, most = (percentile(times, percent) for percent in (50, 99, 100))
    told = sum(f"**{sheets} of {SQUADS}** done" in shown.text for shown in lists)
    return [
        at_most(
            f"{JUDGES} judges send forms at once",
            f"p50 {p50:.0f} ms, p99 {p99:.0f} ms, max {most:.0f} ms, of {len(times)}",
            p99,
            500,
            "p99 at most 0.5 s",
        ),
        Line("  messages that waited meanwhile", f"{waiting} at the first sheet, {left} after the last"),
        Line("  whose lists then are right", f"{told} of {len(lists)}", "all", told == len(lists)),
    ]


async def _desk(server: ClassServer, phone: Phone) -> Shown:
    """A judge's living list, once the bot has sent it."""
    for _ in range(1500):
        rooms = phone.rooms
        for shown in reversed(phone.see(DIRECT_MESSAGES) if DIRECT_MESSAGES in rooms else []):
            if "Your score sheets" in shown.text:
                return shown
        await asyncio.sleep(0.02)
    raise TimeoutError(f"{phone.person.name} got no list within 30 seconds")


def _onward(shown: Shown) -> str:
    return next(label for label in shown.labels if label.startswith(("Go on: ", "Next: ")))


def _marks(form: Form) -> dict[str, str]:
    """The middle level everywhere, and no comment."""
    return {field.label: field.options[len(field.options) // 2].label for field in form.fields if field.options}
