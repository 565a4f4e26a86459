"""A hundred and fifty sign-up presses at one instant, then as many forms: how long each waits, and what is lost.

Beside it a bare echo bot on the same kind of class server in the same run; and the bot once more while the platform
refuses some of its requests with 429.
"""

import asyncio
from collections.abc import Iterable, Iterator, Sequence
from math import inf
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, CastMistake, Outcome, together
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.fault_kinds import LIMITS
from deploy.rehearsal.server.platform_faults import FaultInjection
from deploy.rehearsal.wire.rendering import Shown
from tests.bench.report import Line, at_most, percentile
from tests.bench.school import SECTIONS, class_server, names, open_signup, student
from tests.bench.timed_programs import BARE, BOT, running

PRESSES = 150
TYPING_S = 16.0
"""So long students take to fill in the form, at the least.

The chat library closes a connection that nobody has used for 15 s, so that everybody's answer needs a new one, the
echo bot's as ours. Were the forms sent at once, the echo bot would still have the 150 connections that its answers to
the presses took, all at one instant, and would open none; ours, whose answers come in groups, would have some twenty
and open fifty more (measured). So near to the press no student sends a form.
"""
REFUSED = {LIMITS: 0.1}
"""One request in ten is refused with 429; the library tries again, and gives up after the fifth time in a row."""


Steps = tuple[list[Outcome], ...]
"""What came back to everyone in one run: after the presses, the forms, and (from the bot) asking again."""


def lines(quick: bool = False) -> Iterator[Line]:
    """Presses and forms, in a good and in a bad moment of the platform, and an echo bot's; medians of some runs."""
    yield from asyncio.run(_measure(PRESSES, runs=1 if quick else 3))


async def _measure(count: int, runs: int) -> list[Line]:
    echo: list[Steps] = []
    good: list[Steps] = []
    bad: list[Steps] = []
    refused = 0
    for run in range(runs):
        faults = FaultInjection(run, [LIMITS], rates=REFUSED)
        echo.append(await _echo(count))
        good.append(await _sign_up(count, None))
        bad.append(await _sign_up(count, faults))
        refused += sum(times for kind, times in faults.happened.items() if kind.startswith("429"))
    presses, forms = (_waits([steps[step] for steps in echo]) for step in (0, 1))
    return [
        Line(f"{count} presses at once, echo bot", presses),
        Line("  then their forms sent at once", forms),
        *_lines(f"{count} presses at once", good, 99, 1000, "p99 at most 1 s"),
        *_beside(good, echo),
        *_lines(f"the same, {refused / runs:.0f} answers being 429", bad, 100, 3000, "all within 3 s"),
    ]


def _lines(what: str, runs: Sequence[Steps], percent: float, most_ms: float, promise: str) -> Iterator[Line]:
    for step, name in enumerate((what, "  then their forms sent at once")):
        outcomes = [steps[step] for steps in runs]
        yield at_most(name, _waits(outcomes), _wait(outcomes, percent), most_ms, promise)
    yield Line("  then My squad, the outbox being busy", _waits([steps[2] for steps in runs]))
    promised = [
        (name, later)
        for _, forms, asked in runs
        for name, form, later in zip(names(len(forms)), forms, asked, strict=True)
        if "is on the board" in form.text
    ]
    lost = sum(name not in later.text for name, later in promised)
    yield Line("  what each sees then", f"{lost} of {len(promised)} promised squads lost", "nothing lost", lost == 0)


def _beside(bot: Sequence[Steps], echo: Sequence[Steps]) -> Iterator[Line]:
    """How much longer than for an echo bot's answer one waits, where all wait for the same machine."""
    for step, name in enumerate(("p99 of the presses", "  of the forms")):
        own, bare = (_wait([steps[step] for steps in runs], 99) for runs in (bot, echo))
        times = own / bare
        yield at_most(name, f"{times:.2f}x the echo bot's ({own:.0f} and {bare:.0f} ms)", times, 2, "at most 2x")


def _wait(runs: Sequence[Sequence[Outcome]], percent: float) -> float:
    """The wait in milliseconds that so many percent did not exceed: the median of the runs, or for all the longest.

    Who got no answer waits for ever.
    """
    waits = [percentile([inf if one.ack_ms is None else one.ack_ms for one in run], percent) for run in runs]
    return max(waits) if percent == 100 else median(waits)


def _waits(runs: Sequence[Sequence[Outcome]]) -> str:
    failed = sum(one.failed for outcomes in runs for one in outcomes)
    text = f"p50 {_wait(runs, 50):.0f} ms, p99 {_wait(runs, 99):.0f} ms, max {_wait(runs, 100):.0f} ms"
    return f"{text}, {len(runs)} runs" + (f", {failed} FAILED" if failed else "")


async def _sign_up(count: int, faults: FaultInjection | None) -> Steps:
    with TemporaryDirectory() as folder:
        async with class_server(count, faults) as server:
            await open_signup(server, Path(folder) / "tenbell.db")
            async with running(server, BOT, Path(folder)):
                phones = [Phone(server, student(number)) for number in range(count)]
                panel = await sign_up_panel(server, phones[0])
                presses = await together(*(phone.press(panel, "Start a squad") for phone in phones))
                await asyncio.sleep(TYPING_S)
                forms = await together(*_forms(phones, presses, SECTIONS))
                asked = await together(*(phone.press(panel, "My squad") for phone in phones))
                return presses, forms, asked


def _forms(phones: Sequence[Phone], presses: Iterable[Outcome], sections: Sequence[str] = ()) -> Iterator[Act]:
    wanted = names(len(phones))
    for number, (phone, press) in enumerate(zip(phones, presses, strict=True)):
        section = {"Your section": sections[number % len(sections)]} if sections else {}
        yield phone.fill(press.opened(), {"Name of your squad": wanted[number], **section})


async def _echo(count: int) -> Steps:
    with TemporaryDirectory() as folder:
        async with class_server(count) as server, running(server, BARE, Path(folder)):
            phones = [Phone(server, student(number)) for number in range(count)]
            panel = await sign_up_panel(server, phones[0])
            presses = await together(*(phone.press(panel, "Start a squad") for phone in phones))
            await asyncio.sleep(TYPING_S)
            return presses, await together(*_forms(phones, presses))


async def sign_up_panel(server: ClassServer, phone: Phone) -> Shown:
    """The message with the button, once the bot has posted it."""
    for _ in range(1000):
        try:
            return phone.with_button(server.world.room("signup"), "Start a squad")
        except CastMistake:
            await asyncio.sleep(0.02)
    raise TimeoutError("the sign-up message was not posted within 20 seconds")
