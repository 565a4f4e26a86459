"""A busy machine does not make a bot late; a slow bot is late all the same."""

from __future__ import annotations

import asyncio
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from deploy.rehearsal.server.machine_time import LOOK_EVERY_S, MachineTime

BUSY = "while True: pass"
HOUR_NS = 3_600_000_000_000


class Told:
    """What the system tells of one thread of a process, in a folder like /proc."""

    def __init__(self, folder: Path, pid: int) -> None:
        self._file = folder / str(pid) / "task" / "1" / "schedstat"
        self._file.parent.mkdir(parents=True)
        self.waited(0)

    def waited(self, nanoseconds: int) -> None:
        self._file.write_text(f"123456 {nanoseconds} 7\n")


def test_time_stands_still_while_a_watched_process_is_kept_from_running(tmp_path: Path) -> None:
    bot = Told(tmp_path, 77)
    machine = MachineTime(tmp_path)
    machine.watch(77)
    before = machine.now()
    time.sleep(LOOK_EVERY_S)
    bot.waited(HOUR_NS)
    assert machine.now() == before
    time.sleep(LOOK_EVERY_S)
    assert machine.now() - before >= LOOK_EVERY_S, "the hour of waiting counts once and is not carried over"


def test_a_process_that_ended_is_forgotten(tmp_path: Path) -> None:
    bot = Told(tmp_path, 77)
    machine = MachineTime(tmp_path)
    machine.watch(77)
    machine.now()
    machine.forget(77)
    bot.waited(HOUR_NS)
    before = machine.now()
    time.sleep(LOOK_EVERY_S)
    assert machine.now() - before >= LOOK_EVERY_S


async def test_where_the_system_tells_nothing_plain_seconds_count(tmp_path: Path) -> None:
    machine = MachineTime(tmp_path)
    machine.watch(77)
    began = time.monotonic()
    assert not await machine.within(0.05, asyncio.Event().wait())
    assert time.monotonic() - began >= 0.05
    assert await machine.within(5.0, asyncio.sleep(0))


async def test_what_goes_wrong_in_time_is_not_swallowed(tmp_path: Path) -> None:
    async def fail() -> None:
        raise ConnectionError("gone")

    with pytest.raises(ConnectionError, match="gone"):
        await MachineTime(tmp_path).within(5.0, fail())


async def test_a_wait_is_longer_by_what_the_machine_took(tmp_path: Path) -> None:
    bot = Told(tmp_path, 77)
    machine = MachineTime(tmp_path)
    machine.watch(77)
    machine.now()
    began = time.monotonic()
    waiting = asyncio.create_task(machine.within(0.1, asyncio.Event().wait()))
    await asyncio.sleep(0.08)
    bot.waited(80_000_000)
    assert not await waiting
    assert time.monotonic() - began >= 0.17


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells how long a thread waited for a processor")
def test_two_busy_processes_on_one_processor_are_given_half_of_it_each() -> None:
    processor = min(os.sched_getaffinity(0))
    both = [subprocess.Popen([sys.executable, "-c", BUSY]) for _ in range(2)]
    try:
        for process in both:
            os.sched_setaffinity(process.pid, {processor})
        machine = MachineTime()
        machine.watch(both[0].pid)
        machine.now()
        began, counted = time.monotonic(), machine.now()
        time.sleep(1.0)
        assert machine.now() - counted < 0.8 * (time.monotonic() - began)
    finally:
        for process in both:
            process.kill()
            process.wait()
