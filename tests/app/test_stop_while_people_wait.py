"""An orderly stop while people wait: everybody is answered, what was promised is kept, and it does not take long."""

import asyncio
import signal
import sqlite3
import sys
from collections.abc import AsyncIterator
from contextlib import closing
from pathlib import Path

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, CastMistake, together
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.rendering import Shown
from tests.app.real_program import end_with, running
from tests.bench.school import SECTIONS, class_server, names, open_signup, student

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are a matter of POSIX")

MANY = 40
LONGEST_S = 3.5
"""Of an orderly stop on a quiet machine; the checks allow for a busy one."""


@pytest.fixture
async def server(tmp_path: Path) -> AsyncIterator[ClassServer]:
    async with class_server(MANY) as there:
        await open_signup(there, tmp_path / "tenbell.db")
        yield there


async def panel_of(phone: Phone) -> Shown:
    for _ in range(6000):
        try:
            return phone.with_button("signup", "Start a squad")
        except CastMistake:
            await asyncio.sleep(0.02)
    raise TimeoutError("no sign-up message within two minutes")


async def filled(phones: list[Phone], panel: Shown) -> list[Act]:
    """Everybody has the form open and filled, and is about to send it."""
    opened = await together(*(phone.press(panel, "Start a squad") for phone in phones))
    return [
        phone.fill(press.opened(), {"Name of your squad": name, "Your section": SECTIONS[number % len(SECTIONS)]})
        for number, (phone, press, name) in enumerate(zip(phones, opened, names(len(phones)), strict=True))
    ]


def squads_in(database: Path) -> set[str]:
    with closing(sqlite3.connect(database)) as connection:
        return {name for (name,) in connection.execute("SELECT name FROM squad")}


async def test_forty_forms_that_were_just_sent_are_all_answered_truthfully(tmp_path: Path, server: ClassServer) -> None:
    phones = [Phone(server, student(number)) for number in range(MANY)]
    async with running(tmp_path, server) as process:
        acts = await filled(phones, await panel_of(phones[0]))
        answered = asyncio.ensure_future(together(*acts))
        await asyncio.sleep(0.02)
        ended = await end_with(process, signal.SIGTERM)
        outcomes = await answered
    assert ended.code == 0
    assert "Traceback" not in ended.complained
    assert ended.seconds < 2 * LONGEST_S
    assert [outcome.text for outcome in outcomes if outcome.failed] == []
    kept = squads_in(tmp_path / "tenbell.db")
    for name, outcome in zip(names(MANY), outcomes, strict=True):
        if "is on the board" in outcome.text:
            assert name in kept
        else:
            assert "restarting" in outcome.text
            assert name not in kept or "look whether it was done" in outcome.text
    print(f"{len(kept)} of {MANY} squads made, stopped after {ended.seconds:.2f} s")


async def test_who_comes_during_the_stop_is_told_and_who_could_not_be_finished_is_told_so(
    tmp_path: Path, server: ClassServer
) -> None:
    phones = [Phone(server, student(number)) for number in range(3)]
    async with running(tmp_path, server) as process:
        panel = await panel_of(phones[0])
        (form,) = await filled(phones[:1], panel)
        with closing(sqlite3.connect(tmp_path / "tenbell.db", isolation_level=None)) as busy:
            busy.execute("BEGIN IMMEDIATE")
            waiting = asyncio.ensure_future(together(form))
            await server.machine.sleep(0.2)
            ending = asyncio.ensure_future(end_with(process, signal.SIGTERM))
            await server.machine.sleep(0.3)
            (late,) = await together(phones[1].press(panel, "Start a squad"))
            (first,) = await waiting
            busy.execute("ROLLBACK")
        ended = await ending
    assert late.text.startswith("I am just restarting, so nothing was changed.")
    assert first.text.startswith("I am just restarting and could not finish.")
    assert names(1)[0] not in squads_in(tmp_path / "tenbell.db")
    assert (ended.code, "Traceback" in ended.complained) == (0, False)
    assert ended.seconds < 2 * LONGEST_S
