"""One room: the class server, the bot as its own process, the clock, and whose turn it is."""

from __future__ import annotations

import asyncio
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.people_nobody_plays import Others, Setting
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, CastMistake, Outcome
from deploy.rehearsal.season.bot_process import BotDied, BotProcess
from deploy.rehearsal.season.season_settings import Script
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.stepped_clock import ClockStuck
from deploy.rehearsal.tryroom.break_buttons import NO_POWER, give_power
from deploy.rehearsal.tryroom.form_drafts import Drafts
from deploy.rehearsal.tryroom.kept_state import KeptState, save
from deploy.rehearsal.world.state import Room

ANOTHER_BOT = "Another Tenbell is running"
STILL_THERE_TRIES = 10
SAVE_AFTER_S = 1.0
SHORTEST, LONGEST = 1.0, 600.0
"""Seconds by which time goes on between two presses of whoever plays: those of the wall, within these bounds."""


@dataclass
class TryRoom:
    """Everything behind the page. `start` it, let people act and time pass, `stop` it; the folder keeps it all."""

    folder: Path
    seed: int
    plan: bytes | None
    server: ClassServer
    script: Script
    cast: Cast
    began: datetime
    kept: KeptState | None = None
    read: dict[int, dict[int, int]] = field(default_factory=dict)
    """By person and room, the newest message that was looked at."""
    windows: Counter[str] = field(default_factory=Counter)
    """Who is played in how many open windows."""
    broken: set[str] = field(default_factory=set)
    moving: str = ""
    """What the page says while time passes."""
    trouble: str = ""
    """What went wrong behind the scenes, in words, until it is mended."""
    way: dict[str, dict[str, int | str]] = field(default_factory=dict)
    """By person, the guided way that was begun."""
    drafts: Drafts = field(default_factory=dict)
    """What stands in forms that are open."""
    on_change: list[Callable[[], None]] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Put the people on the stage."""
        self.lock = asyncio.Lock()
        self.stage = Stage(self.server, Random(self.seed), self.seed, tries=3)
        setting = Setting(self.plan, self.script.zone, self.script.sections, self.script.brief)
        self.others = Others(self.stage, self.cast, setting, self.played)
        self.cast_plays_all = False
        self._process: BotProcess | None = None
        self._last_act = time.monotonic()
        self._stop = self.stopped = False
        self._saving: asyncio.TimerHandle | None = None

    @property
    def bot(self) -> BotProcess:
        """The bot's own process; raises `BotDied` where it was never started."""
        if self._process is None:
            raise BotDied("the bot was never started")
        return self._process

    @property
    def has_power(self) -> bool:
        """Whether the bot is alive."""
        return self._process is not None and self._process.running

    @property
    def zone(self) -> ZoneInfo:
        """Where the school is."""
        return ZoneInfo(self.script.zone)

    @property
    def now(self) -> datetime:
        """The present moment in the school's zone."""
        return self.server.clock.now.astimezone(self.zone)

    async def start(self) -> None:
        """Open the class server and start the bot."""
        await self.server.start()
        self._process = BotProcess(self.server, self.folder / "tenbell.db", self.folder / "bot.log")
        for tries_left in reversed(range(STILL_THERE_TRIES)):
            try:
                await self._process.start()
                break
            except BotDied as died:
                # The bot of a command that was ended at once notices it a moment later, and lets the file go then.
                if ANOTHER_BOT not in str(died) or not tries_left:
                    raise
                await asyncio.sleep(1)
        self.keep()

    async def stop(self) -> None:
        """Stop the bot, keep everything, and close the class server."""
        self._stop = self.stopped = True
        self.changed()
        async with self.lock:
            if self.has_power:
                self.bot.limit_files(None)
                await self.bot.stop()
            self.keep()
            await self.server.stop()

    def keep(self) -> None:
        """Write everything to the folder now."""
        if self._saving is not None:
            self._saving.cancel()
            self._saving = None
        notes = {
            "seed": self.seed,
            "plan": None if self.plan is None else self.plan.decode(),
            "done": sorted(self.others.done),
            "read": self.read,
            "way": self.way,
            "drafts": self.drafts,
        }
        save(self.server, self.began, notes, self.folder)

    def changed(self) -> None:
        """Tell all windows, and keep everything a moment later."""
        for tell in list(self.on_change):
            tell()
        self.keep_soon()

    def keep_soon(self) -> None:
        """Keep everything a moment later."""
        if self._saving is None and not self.stopped:
            self._saving = asyncio.get_running_loop().call_later(SAVE_AFTER_S, self.keep)

    # Who plays

    def played(self) -> set[str]:
        """Who is played by somebody at a window."""
        return set() if self.cast_plays_all else {name for name, windows in self.windows.items() if windows}

    def enter(self, name: str) -> None:
        """A window plays this person from now on."""
        self.windows[name] += 1

    def leave(self, name: str) -> None:
        """A window has been closed."""
        self.windows[name] -= 1

    # What whoever plays does

    async def act(self, make: Callable[[], Act]) -> Outcome:
        """Do one act of a person, some seconds after the one before; raises `CastMistake` for what nobody could do."""
        async with self.lock:
            if not self.has_power:
                return Outcome("failure", failure=NO_POWER)
            try:
                await self._breathe()
                return await make()
            except ClockStuck as stuck:
                self.trouble = str(stuck)
                return Outcome("failure", failure="The bot does not answer at all at the moment.")
            finally:
                self.changed()

    async def say(self, phone: Phone, room: Room, text: str) -> None:
        """Write an ordinary message."""
        async with self.lock:
            if self.has_power:
                await self._breathe()
            await phone.say(room, text)
            self.changed()

    async def _breathe(self) -> None:
        """Let as much time pass as whoever plays has taken."""
        now = time.monotonic()
        passed, self._last_act = now - self._last_act, now
        await self.stage.wait(seconds=min(LONGEST, max(SHORTEST, passed)))

    # The clock

    async def pass_time(self, until: datetime, what: str, stop: Callable[[datetime], bool]) -> None:
        """Let time pass with everybody else living in it; `stop`, given when it began, may end it before."""
        if self.moving:
            raise CastMistake("Time is passing already. Wait until it stands still, or press Stop here.")
        self._stop, self.moving, began = False, what, self.server.clock.now
        self.changed()
        try:
            await give_power(self)
            while self.server.clock.now < until and not self._stop:
                async with self.lock:
                    await self._one_stretch(until, lambda: self._stop or stop(began))
                if stop(began):
                    break
                self.changed()
        except (ClockStuck, BotDied) as fault:
            self.trouble = str(fault)
        finally:
            self.moving = ""
            self._last_act = time.monotonic()
            self.changed()

    async def _one_stretch(self, until: datetime, stop: Callable[[], bool]) -> None:
        """Go on to whatever comes first: the end, an hour of the people, or a moment the bot has asked for."""
        clock = self.server.clock
        hour = self.others.next_hour(clock.now)
        target = min(until, hour)
        if clock.next is not None and clock.next > clock.now:
            target = min(target, clock.next)
        await clock.step_to(target)
        if clock.now >= hour and not stop():
            before = clock.now
            await self.others.act(stop)
            self.put_answers_away(before)

    def put_answers_away(self, since: datetime) -> None:
        """Let those whom nobody plays close the private answers that came since then, as people do who have read them.

        Whoever plays them later would find a wall of old answers otherwise, with buttons that are out of date.
        """
        played = self.played()
        for person in self.server.world.people.values():
            if person.bot or person.name in played:
                continue
            for place in self.server.world.rooms.values():
                for message in reversed(place.messages.values()):
                    if message.created < since:
                        break
                    if message.only_for == person.id:
                        person.wiped.add(message.id)

    def hold(self) -> None:
        """Stop the clock where it is."""
        self._stop = True

    @property
    def held(self) -> bool:
        """Whether somebody has stopped the clock since it last went on."""
        return self._stop
