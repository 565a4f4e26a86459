"""One season from the first day to the result: the class server, the bot as its own process, and the cast."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from random import Random
from typing import Any, Protocol
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast import end_of_tryout
from deploy.rehearsal.cast.people import GUESTS, ON_PAPER, Cast, invent_cast
from deploy.rehearsal.cast.people_nobody_plays import Others, Setting
from deploy.rehearsal.cast.press_sequence import pay
from deploy.rehearsal.cast.preview_and_announcement import preview, read_standings
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.season.bot_process import BotDied, BotProcess
from deploy.rehearsal.season.built_in_season import scenes
from deploy.rehearsal.season.early_bot import EarlyBot
from deploy.rehearsal.season.members_and_channels import people_the_server
from deploy.rehearsal.season.power_cuts_and_full_disk import inject_faults
from deploy.rehearsal.season.season_settings import Script
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.fault_kinds import KINDS
from deploy.rehearsal.server.platform_faults import FaultInjection
from deploy.rehearsal.server.stepped_clock import ClockStuck
from deploy.rehearsal.world.state import File

AT_THE_LATEST = timedelta(days=20)
"""So long after the deadline a season of somebody's own plan must have come to its end."""

Progress = Callable[[str], None]


@dataclass
class Played:
    """A season that has been played."""

    seed: int
    plan: bytes
    """The plan file, as the bot exported it."""
    judges: int
    server: ClassServer
    stage: Stage
    cast: Cast
    bot: BotProcess
    standings: list[dict[str, Any]]
    wall_s: float
    broke_off: str = ""
    """Where and why the season came to no end; empty if it did."""


class Report(Protocol):
    """Whoever tells of a season."""

    def on_file(self, key: str, file: File) -> None:
        """A file is seen first; `key` is its SHA-256."""

    def write(self, played: Played) -> None:
        """The season is over; called in a thread, while the bot ends."""


async def play(
    script: Script,
    out: Path,
    progress: Progress,
    after_kill: Callable[[Path], None] = lambda _: None,
    *,
    to_the_end: bool = True,
    report: Report | None = None,
    early: EarlyBot | None = None,
) -> Played:
    """Play a season into a folder and return everything that can be told of it.

    `after_kill` may look at the database between a power cut and the restart; `early` is the bot where it was begun
    before.

    A season that breaks off raises `CastMistake`, `ClockStuck` or `BotDied`; unless `to_the_end` is asked for, it is
    reported and returned as far as it came.
    """
    began = time.monotonic()
    random = Random(script.seed)
    start = script.begins
    on_paper = ON_PAPER if script.plan is None else 0
    cast = invent_cast(random, script.sections, script.smallest, script.largest, script.squads, script.judges, on_paper)
    ours = script.trouble & set(KINDS)
    faults = FaultInjection(script.seed, ours) if ours else None
    token, listening = (early.token, early.listening) if early else ("", None)
    async with ClassServer(start, faults=faults, token=token, listening=listening) as server:
        people_the_server(server, cast, GUESTS if script.plan is None else ())
        if faults is not None:
            faults.closed(server.world.person(name) for name in cast.judges)
        stage = Stage(server, random, script.seed, rough=bool(script.trouble), zone="" if script.plan else script.zone)
        database = out / "tenbell.db"
        bot = BotProcess(server, database, out / "bot.log", early=early)
        if report is not None:
            server.transcript.on_file = report.on_file
        plan, broke_off = script.plan or b"", ""
        standings: list[dict[str, Any]] = []
        async with _running(bot):
            try:
                async with inject_faults(
                    bot,
                    server.machine,
                    lambda: server.request_log.total,
                    database,
                    script.trouble,
                    script.seed,
                    after_kill,
                ):
                    way = _scenes if script.plan is None else _day_by_day
                    plan, standings = await way(script, stage, cast, progress)
                await _last_look(stage)
                if script.plan is None:
                    await pay(stage, cast, end_of_tryout.put_away)
            except (CastMistake, ClockStuck, BotDied) as broken:
                local = server.clock.now.astimezone(ZoneInfo(script.zone))
                broke_off = f"On {local:%A} {local.day} {local:%B} at {local:%H:%M}: {broken}"
                if to_the_end:
                    raise
                # What it still sends belongs to it.
                await _stop(bot)
            wall = time.monotonic() - began
            played = Played(script.seed, plan, len(cast.judges), server, stage, cast, bot, standings, wall, broke_off)
            written = [asyncio.to_thread(report.write, played)] if report else []
            await asyncio.gather(_stop(bot), *written)
            return played


@asynccontextmanager
async def _running(bot: BotProcess) -> AsyncIterator[None]:
    await bot.start()
    try:
        yield
    finally:
        await _stop(bot)


async def _stop(bot: BotProcess) -> None:
    if bot.running:
        await bot.stop()


async def _scenes(script: Script, stage: Stage, cast: Cast, progress: Progress) -> tuple[bytes, list[dict[str, Any]]]:
    """Play the built-in season; returns the plan file and the standings as the coach got them."""
    return await scenes(stage, cast, progress, script.brief, script.zone, script.sections)


async def _day_by_day(
    script: Script, stage: Stage, cast: Cast, progress: Progress
) -> tuple[bytes, list[dict[str, Any]]]:
    """Play somebody's own plan: at each hour of the school day everybody does what their phones ask for."""
    setting = Setting(script.plan, script.zone, script.sections, script.brief)
    others = Others(stage, cast, setting, set)
    last_day = script.brief.replace(tzinfo=ZoneInfo(script.zone)) + AT_THE_LATEST
    told: set[str] = set()
    await others.set_up()
    while "feedback" not in others.done:
        for what, is_so in others.so_far().items():
            if is_so and what not in told:
                told.add(what)
                progress(what)
        deadline = others.deadline()
        if stage.now > (last_day if deadline is None else deadline + AT_THE_LATEST):
            raise CastMistake(f"nobody knows how to go on. {'; '.join(list(others.stumbles)[-3:])}")
        await stage.until(others.next_hour(stage.now))
        await others.act(lambda: False)
    return script.plan or b"", read_standings(stage, await preview(stage))


async def _last_look(stage: Stage) -> None:
    """When no more faults are injected and everything has been delivered, look once more for what was acknowledged."""
    await stage.wait(hours=1)
    await stage.look_back()
