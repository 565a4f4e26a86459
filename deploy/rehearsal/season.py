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

from deploy.rehearsal import (
    scene_after,
    scene_hand_in,
    scene_judging,
    scene_office,
    scene_practice,
    scene_questions,
    scene_result,
    scene_signup,
    scene_table,
    scene_window,
)
from deploy.rehearsal.acting import NEWS, OFFICE, ROOMS, SIGN_UP, Stage, awaited
from deploy.rehearsal.botprocess import BotProcess
from deploy.rehearsal.mishaps import mishaps
from deploy.rehearsal.people import COACH, JUDGES, SCOREKEEPER, SQUADS, Cast, invent_cast
from deploy.rehearsal.permissions import MANAGE_GUILD, VIEW_CHANNEL
from deploy.rehearsal.server import ClassServer
from deploy.rehearsal.trouble import KINDS, Trouble
from deploy.rehearsal.world import Overwrite

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
    cast = invent_cast(
        random, script.sections, script.smallest, script.largest, script.squads, script.judges
    )
    ours = script.trouble & set(KINDS)
    trouble = Trouble(script.seed, ours) if ours else None
    async with ClassServer(start, trouble=trouble) as server:
        people_the_server(server, cast)
        if trouble is not None:
            trouble.closed(server.world.person(name) for name in cast.judges)
        stage = Stage(server, random, script.seed, rough=bool(script.trouble))
        database = out / "tenbell.db"
        bot = BotProcess(server, database, out / "bot.log")
        await bot.start()
        try:
            async with mishaps(bot, database, script.trouble, script.seed, after_kill):
                plan, standings = await _scenes(script, stage, cast, progress)
            await _last_look(stage)
        finally:
            await bot.stop()
        wall = time.monotonic() - began
        return Played(script.seed, plan, len(cast.judges), server, stage, cast, bot, standings, wall)


async def _scenes(
    script: Script, stage: Stage, cast: Cast, progress: Progress
) -> tuple[bytes, list[dict[str, Any]]]:
    """Play scene after scene; returns the plan file and the standings as the coach got them."""
    progress("The coach sets up")
    await scene_office.begin(stage, script.plan, script.brief, script.zone, script.sections)
    plan = await scene_office.read_plan(stage)
    await scene_office.scorekeeper(stage)
    await scene_office.open_sign_up(stage)
    progress("Sign-up")
    kept = await awaited(stage, lambda: scene_signup.panel(stage.phone(cast.late)))
    await scene_office.ask_judges(stage, cast)
    await scene_signup.play(stage, cast)
    await scene_office.place(stage, cast.last_lonely)
    await stage.look_back()
    progress("The brief and the ten days")
    await scene_window.brief(stage, cast)
    await scene_signup.too_late(stage, cast, kept)
    await scene_questions.play(stage, cast)
    practice, hand_in = scene_practice.Practice(stage, cast), scene_hand_in.HandIn(stage, cast)
    await scene_window.days(stage, cast, practice.day, hand_in.day)
    practice.remember()
    progress("The event days")
    await scene_judging.start_surprise(stage)
    await scene_table.play(stage, cast)
    progress("Judging")
    await scene_hand_in.judges_read(stage, cast)
    await scene_judging.play(stage, cast, leave=5)
    await scene_result.preview(stage)
    await stage.wait(hours=26)
    await scene_judging.mark_all(stage, cast, cast.forgetful)
    await scene_judging.close(stage)
    progress("The result")
    await scene_after.look_closer(stage)
    standings = await scene_result.announce(stage)
    progress("The place and the feedback")
    await stage.wait(hours=18)
    await scene_after.offer(stage, cast)
    await scene_after.feedback(stage)
    return plan, standings


async def _last_look(stage: Stage) -> None:
    """When all trouble is over and everything has been delivered, look once more for what was acknowledged."""
    await stage.wait(hours=1)
    await stage.look_back()
