"""One season from the first day to the result: the class server, the bot as its own process, and the cast."""

from __future__ import annotations

import time
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast import (
    brief_and_build_days,
    hand_in,
    judging,
    offer_and_feedback,
    practice,
    questions,
    results,
    score_table,
    sign_up,
    try_out_setup,
)
from deploy.rehearsal.cast.people import COACH, JUDGES, SCOREKEEPER, SQUADS, Cast, invent_cast
from deploy.rehearsal.cast.stage import NEWS, OFFICE, ROOMS, SIGN_UP, Stage, awaited
from deploy.rehearsal.season.bot_process import BotProcess
from deploy.rehearsal.season.process_faults import inject_faults
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.fault_injection import KINDS, FaultInjection
from deploy.rehearsal.world.permission_bits import MANAGE_GUILD, VIEW_CHANNEL
from deploy.rehearsal.world.state import Overwrite

ZONE = "America/New_York"
SECTIONS = ["7 Ash", "7 Birch", "7 Cedar", "8 Elm", "8 Fir"]
BRIEF = datetime(2027, 1, 11, 15, 30)  # noqa: DTZ001 - local by meaning
WEEK_BEFORE = timedelta(days=7, hours=6)

Progress = Callable[[str], None]


@dataclass(frozen=True)
class Script:
    """What a season is played from."""

    seed: int
    plan: bytes | None
    zone: str
    sections: list[str]
    smallest: int
    largest: int
    brief: datetime
    """Local, in the zone."""
    trouble: frozenset[str] = frozenset()
    squads: int = SQUADS
    judges: int = len(JUDGES)


def script(seed: int, plan: bytes | None, trouble: frozenset[str] = frozenset()) -> Script:
    """Read from a plan file what the cast must know to act: who is in which section, and when it begins.

    Raises:
        ValueError: the file is no plan that can be read.
    """
    if plan is None:
        return Script(seed, None, ZONE, SECTIONS, 3, 5, BRIEF, trouble)
    try:
        table = tomllib.loads(plan.decode())
        squads = table.get("squads", {})
        brief = table["calendar"]["brief"]
        return Script(
            seed,
            plan,
            str(table["zone"]),
            [str(section) for section in table["sections"]],
            int(squads.get("smallest", 3)),
            int(squads.get("largest", 5)),
            brief,
            trouble,
        )
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        raise ValueError(f"the plan cannot be rehearsed: {error}") from error


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


def people_the_server(server: ClassServer, cast: Cast) -> None:
    """Let everybody join the class server and make its channels; the office is for the coach alone."""
    world = server.world
    staff = world.add_role("staff", MANAGE_GUILD)
    helpers = world.add_role("helpers")
    coach = world.add_person(COACH, staff, owner=True)
    world.add_person(SCOREKEEPER, helpers)
    for name in cast.judges:
        world.add_person(name, helpers)
    for name in cast.students:
        world.add_person(name)
    for channel in (SIGN_UP, NEWS, ROOMS):
        world.add_channel(channel)
    everyone = Overwrite(world.guild_id, for_person=False, deny=VIEW_CHANNEL)
    coach_only = Overwrite(coach.id, for_person=True, allow=VIEW_CHANNEL)
    bot_too = Overwrite(world.bot.id, for_person=True, allow=VIEW_CHANNEL)
    world.add_channel(OFFICE, everyone, coach_only, bot_too)


async def play(
    script: Script, out: Path, progress: Progress, after_kill: Callable[[Path], None] = lambda _: None
) -> Played:
    """Play a season into a folder and return everything that can be told of it.

    `after_kill` may look at the database between a power cut and the restart.
    """
    began = time.monotonic()
    random = Random(script.seed)
    start = script.brief.replace(tzinfo=ZoneInfo(script.zone)) - WEEK_BEFORE
    cast = invent_cast(random, script.sections, script.smallest, script.largest, script.squads, script.judges)
    ours = script.trouble & set(KINDS)
    faults = FaultInjection(script.seed, ours) if ours else None
    async with ClassServer(start, faults=faults) as server:
        people_the_server(server, cast)
        if faults is not None:
            faults.closed(server.world.person(name) for name in cast.judges)
        stage = Stage(server, random, script.seed, rough=bool(script.trouble))
        database = out / "tenbell.db"
        bot = BotProcess(server, database, out / "bot.log")
        await bot.start()
        try:
            async with inject_faults(bot, server.machine, database, script.trouble, script.seed, after_kill):
                plan, standings = await _scenes(script, stage, cast, progress)
            await _last_look(stage)
        finally:
            await bot.stop()
        wall = time.monotonic() - began
        return Played(script.seed, plan, len(cast.judges), server, stage, cast, bot, standings, wall)


async def _scenes(script: Script, stage: Stage, cast: Cast, progress: Progress) -> tuple[bytes, list[dict[str, Any]]]:
    """Play scene after scene; returns the plan file and the standings as the coach got them."""
    progress("The coach sets up")
    await try_out_setup.begin(stage, script.plan, script.brief, script.zone, script.sections)
    plan = await try_out_setup.read_plan(stage)
    await try_out_setup.scorekeeper(stage)
    await try_out_setup.open_sign_up(stage)
    progress("Sign-up")
    kept = await awaited(stage, lambda: sign_up.panel(stage.phone(cast.late)))
    await try_out_setup.ask_judges(stage, cast)
    await sign_up.play(stage, cast)
    await try_out_setup.place(stage, cast.last_lonely)
    await stage.look_back()
    progress("The brief and the ten days")
    await brief_and_build_days.brief(stage, cast)
    await sign_up.too_late(stage, cast, kept)
    await questions.play(stage, cast)
    turns, parts = practice.Practice(stage, cast), hand_in.HandIn(stage, cast)
    await brief_and_build_days.days(stage, cast, turns.day, parts.day)
    turns.remember()
    progress("The event days")
    await judging.start_surprise(stage)
    await score_table.play(stage, cast)
    progress("Judging")
    await hand_in.judges_read(stage, cast)
    await judging.play(stage, cast, leave=5)
    await results.preview(stage)
    await stage.wait(hours=26)
    await judging.mark_all(stage, cast, cast.forgetful)
    await judging.close(stage)
    progress("The result")
    await offer_and_feedback.look_closer(stage)
    standings = await results.announce(stage)
    progress("The place and the feedback")
    await stage.wait(hours=18)
    await offer_and_feedback.offer(stage, cast)
    await offer_and_feedback.feedback(stage)
    return plan, standings


async def _last_look(stage: Stage) -> None:
    """When no more faults are injected and everything has been delivered, look once more for what was acknowledged."""
    await stage.wait(hours=1)
    await stage.look_back()
