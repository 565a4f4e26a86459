"""How people of the cast act: through their phones, with patience, and keeping in mind what they were told."""

from __future__ import annotations

import asyncio
import re
from collections import Counter
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast.people import COACH
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, CastMistake, Outcome
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.rendering import Shown

SIGN_UP, NEWS, ROOMS, OFFICE = "sign-up", "news", "squad-rooms", "coach-office"
NEXT_PAGE = re.compile(r"Next page \d+ of \d+")
MORNING, NIGHT = time(7, 30), time(20)
TRIES = 40
WAIT = timedelta(seconds=20)
BACK_ON_LINE = 300
"""Tenths of a second for which the bot is waited for."""
NOTHING_CHANGED = "nothing was changed"
"""What people are told when the bot could not do it; they try again."""
UNHEARD, NOT_DONE, NOT_THERE = "no answer came", "told that nothing was changed", "not on the screen"
"""Why somebody tries again; only after the first it may have been done all the same."""


@dataclass
class Claim:
    """Something a person was told had been done; whether it can still be seen is asked later."""

    who: str
    what: str
    still_there: Callable[[], Awaitable[bool]]


@dataclass
class Stage:
    """Everything the scenes share: the class server, chance, the time, and what people were told."""

    server: ClassServer
    random: Random
    seed: int
    rough: bool = False
    """Whether faults are injected: answers may be missing although the thing was done."""
    zone: str = ""
    """Where the school is: people sleep there from 20:00 to 07:30. Empty: whoever lets time pass sees to that."""
    tries: int = TRIES
    """How often people act again when no answer comes."""
    acknowledged: int = 0
    claims: list[Claim] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)
    retries: Counter[str] = field(default_factory=Counter)
    """Acts that were tried again, by why."""
    broken: list[str] = field(default_factory=list)
    """Acts that were answered otherwise than they had to be, although every answer before was heard."""
    attempts: int = 0
    sheets_due: int = 0
    sheets_done: int = 0
    facts: dict[str, str] = field(default_factory=dict)
    """What the scenes leave for the report, such as the fingerprint that was posted."""

    def chance(self, *about: object) -> Random:
        """Dice for one thing that is entered, the same however often and whenever it is entered."""
        return Random("|".join(map(str, (self.seed, *about))))

    @property
    def coach(self) -> Phone:
        """The coach's phone."""
        return Phone(self.server, COACH)

    def phone(self, name: str) -> Phone:
        """The phone of somebody by name."""
        return Phone(self.server, name)

    @property
    def now(self) -> datetime:
        """The present moment of the class server."""
        return self.server.clock.now

    async def wait(self, **time: float) -> None:
        """Let time pass; the arguments are those of `timedelta`."""
        await self.server.clock.step_to(self.now + timedelta(**time))
        await self._sleep()

    async def until(self, moment: datetime) -> None:
        """Let time pass until a moment; one that has passed costs nothing."""
        if moment > self.now:
            await self.server.clock.step_to(moment)

    async def moment(self) -> None:
        """A few seconds pass between two acts of people."""
        then = self.now + timedelta(seconds=self.random.randint(2, 9))
        await (self.server.clock.step_to(then) if self.rough else self.server.clock.pass_to(then))
        await self._sleep()

    async def _sleep(self) -> None:
        if self.zone:
            await self.until(awake(self.now, self.zone))

    async def do(self, attempt: Callable[[], Act], *, told: str = "") -> Outcome:
        """Act once more for as long as no answer comes: people press again when nothing happens.

        `told` is text that means it is done; where it is given, an answer without it is a mistake of the cast.
        """
        last, unheard = "", False
        for _ in range(self.tries):
            await self.moment()
            try:
                outcome = await attempt()
            except CastMistake as mistake:
                if not self.rough:
                    raise
                outcome, why = Outcome("failure", failure=f"it was not on the screen: {mistake}"), NOT_THERE
            else:
                why = self._why_again(outcome)
            if not why:
                if told and told in outcome.text:
                    self.acknowledged += 1
                elif told and not self.rough:
                    raise CastMistake(f"expected {told!r}, was told {outcome.text!r}")
                elif told and not unheard:
                    self.broken.append(f"expected {told!r}, was told {outcome.text!r}")
                return outcome
            last, unheard = outcome.text, unheard or why == UNHEARD
            self.retries[why] += 1
            await self._back_on_line()
            await self.wait(seconds=WAIT.total_seconds())
        raise CastMistake(f"no answer came, however often it was tried: {last}")

    def _why_again(self, outcome: Outcome) -> str:
        """Why an act is tried again: whether it was done is not known, or it is known not to have been; else empty."""
        if outcome.failed:
            return UNHEARD
        return NOT_DONE if self.rough and NOTHING_CHANGED in outcome.text else ""

    async def _back_on_line(self) -> None:
        """Give the bot the real seconds it needs to come back; nobody presses again and again within one of them."""
        await self.server.machine.sleep(0.1)
        for _ in range(BACK_ON_LINE):
            if self.server.gateway.reachable:
                return
            await self.server.machine.sleep(0.1)

    def remember(self, who: str, what: str, still_there: Callable[[], Awaitable[bool]]) -> None:
        """Remember something acknowledged, to look for it later."""
        self.claims.append(Claim(who, what, still_there))

    async def look_back(self) -> None:
        """Look for everything that was acknowledged; what is gone is lost."""
        for claim in self.claims:
            if not await claim.still_there():
                self.lost.append(f"{claim.who}: {claim.what}")
        self.claims.clear()

    def doubled(self) -> list[str]:
        """Messages of the bot that stand twice in a room within ten minutes of each other."""
        found = []
        for room in self.server.world.rooms.values():
            last: dict[str, datetime] = {}
            posts = [m for m in room.messages.values() if m.author_id == self.server.world.bot.id and not m.only_for]
            for message in posts:
                if message.deleted or not message.content:
                    continue
                before = last.get(message.content)
                if before is not None and message.created - before < timedelta(minutes=10):
                    found.append(f"{room.name}: {message.content[:80]}")
                last[message.content] = message.created
        return found


def awake(moment: datetime, zone: str) -> datetime:
    """The moment itself by day, or else half past seven on the morning after."""
    local = moment.astimezone(ZoneInfo(zone))
    if MORNING <= local.time() < NIGHT:
        return moment
    day = local.date() + timedelta(days=local.time() >= NIGHT)
    return datetime.combine(day, MORNING, ZoneInfo(zone)).astimezone(UTC)


def newest(phone: Phone, room: str, containing: str) -> Shown:
    """The newest message in a room that contains a text, as this person sees it."""
    for shown in phone.newest_first(room):
        if containing in shown.text:
            return shown
    raise CastMistake(f"{phone.person.name} sees nothing with {containing!r} in {room}")


async def awaited(stage: Stage, look: Callable[[], Shown]) -> Shown:
    """What somebody waits to see; with injected faults, it may take its time."""
    for _ in range(TRIES if stage.rough else 1):
        try:
            return look()
        except CastMistake:
            if not stage.rough:
                raise
            await asyncio.sleep(0.1)
            await stage.wait(seconds=WAIT.total_seconds())
    return look()
