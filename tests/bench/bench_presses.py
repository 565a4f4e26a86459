"""A hundred and fifty sign-up presses at one instant, then as many forms: how long each waits, and what is lost.

Beside it a bare echo bot on the same kind of class server in the same run; and the bot once more while the platform
refuses some of its requests with 429.
"""

import asyncio
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from deploy.rehearsal.acts import Act, CastMistake, Outcome, together
from deploy.rehearsal.phone import Phone
from deploy.rehearsal.screen import Shown
from deploy.rehearsal.server import ClassServer
from deploy.rehearsal.trouble import LIMITS, Trouble
from tests.bench.programs import BARE, BOT, running
from tests.bench.report import Line, at_most, percentile
from tests.bench.school import SECTIONS, class_server, names, open_signup, student

PRESSES = 150
REFUSED = {LIMITS: 0.1}
"""One request in ten is refused with 429; the library tries again, and gives up after the fifth time in a row."""


def lines() -> Iterator[Line]:
    """Presses and forms, in a good and in a bad moment of the platform, and an echo bot's."""
    yield from asyncio.run(_measure(PRESSES, Trouble(7, [LIMITS], rates=REFUSED)))


async def _measure(count: int, trouble: Trouble) -> list[Line]:
    echo = await _echo(count)
    good = await _sign_up(count, None)
    bad = await _sign_up(count, trouble)
    refused = sum(times for kind, times in trouble.happened.items() if kind.startswith("429"))
    return [
        Line(f"{count} presses at once, echo bot", f"presses {_waits(echo[0])}; forms {_waits(echo[1])}"),
        *_lines(f"{count} presses at once", good, 1000, "p99 at most 1 s"),
        *_lines(f"the same, {refused} answers being 429", bad, 3000, "all within 3 s"),
    ]


def _lines(what: str, steps: Sequence[Sequence[Outcome]], most_ms: float, promise: str) -> Iterator[Line]:
    presses, forms, asked = steps
    percent = 99 if "p99" in promise else 100
    for name, outcomes in ((what, presses), ("  then their forms sent at once", forms)):
        waits = [float("inf") if outcome.ack_ms is None else outcome.ack_ms for outcome in outcomes]
        yield at_most(name, _waits(outcomes), percentile(waits, percent), most_ms, promise)
    wanted = names(len(presses))
    kept = sum(name in outcome.text for name, outcome in zip(wanted, asked, strict=True))
    told = sum("is on the board" in outcome.text for outcome in forms)
    yield Line("  then My squad, the post being busy", _waits(asked))
    yield Line(
        "  what each sees then", f"{kept} of {told} promised squads", "nothing lost", kept == told == len(presses)
    )


def _waits(outcomes: Sequence[Outcome]) -> str:
    times = [outcome.ack_ms for outcome in outcomes if outcome.ack_ms is not None]
    failed = sum(outcome.failed for outcome in outcomes)
    p50, p99, most = (round(percentile(times, percent)) for percent in (50, 99, 100))
    return f"p50 {p50} ms, p99 {p99} ms, max {most} ms" + (f", {failed} FAILED" if failed else "")


async def _sign_up(count: int, trouble: Trouble | None) -> tuple[list[Outcome], list[Outcome], list[Outcome]]:
    with TemporaryDirectory() as folder:
        async with class_server(count, trouble) as server:
            await open_signup(server, Path(folder) / "tenbell.db")
            async with running(server, BOT, Path(folder)):
                phones = [server.phone(student(number)) for number in range(count)]
                panel = await _panel(server, phones[0])
                presses = await together(*(phone.press(panel, "Start a squad") for phone in phones))
                forms = await together(*_forms(phones, presses, SECTIONS))
                asked = await together(*(phone.press(panel, "My squad") for phone in phones))
                return presses, forms, asked


def _forms(phones: Sequence[Phone], presses: Iterable[Outcome], sections: Sequence[str] = ()) -> Iterator[Act]:
    wanted = names(len(phones))
    for number, (phone, press) in enumerate(zip(phones, presses, strict=True)):
        section = {"Your section": sections[number % len(sections)]} if sections else {}
        yield phone.fill(press.opened(), {"Name of your squad": wanted[number], **section})


async def _echo(count: int) -> tuple[list[Outcome], list[Outcome]]:
    with TemporaryDirectory() as folder:
        async with class_server(count) as server, running(server, BARE, Path(folder)):
            phones = [server.phone(student(number)) for number in range(count)]
            panel = await _panel(server, phones[0])
            presses = await together(*(phone.press(panel, "Start a squad") for phone in phones))
            return presses, await together(*_forms(phones, presses))


async def _panel(server: ClassServer, phone: Phone) -> Shown:
    """The message with the button, once the bot has posted it."""
    for _ in range(1000):
        try:
            return phone.with_button(server.world.room("signup"), "Start a squad")
        except CastMistake:
            await asyncio.sleep(0.02)
    raise TimeoutError("the sign-up message was not posted within 20 seconds")
