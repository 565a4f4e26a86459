"""Misbehaviour on purpose: a network and a platform as bad as they get, the same for the same seed."""

from __future__ import annotations

import asyncio
import math
import random
from collections import Counter
from collections.abc import Awaitable, Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from deploy.rehearsal.server.fault_kinds import CLOSED_DM, DROPS, ERRORS, KINDS, LIMITS, SLOW, TWICE
from deploy.rehearsal.server.gateway_sessions import Gateway
from deploy.rehearsal.server.rate_limits import WIRE_VIA
from deploy.rehearsal.wire.request_bodies import Body
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import Person

SPARED = {"GET /users/@me", "GET /oauth2/applications/@me", "GET /gateway", "GET /gateway/bot"}
"""Logging in is spared: a bot that cannot log in stops, and should."""

RATES = {DROPS: 0.02, LIMITS: 0.04, ERRORS: 0.03, TWICE: 0.06, SLOW: 0.004, CLOSED_DM: 0.2}
SLOW_S = 1.0
HALF_OPEN_S = 0.8
HELD_BACK_S = 0.05


@dataclass(frozen=True)
class Fault:
    """What befalls one request. `status` answers instead of the route; `slow_s` delays the answer after it acted."""

    status: int = 0
    body: Any = None
    headers: dict[str, str] = field(default_factory=dict)
    reset_before: bool = False
    reset_after: bool = False
    slow_s: float = 0.0


Hook = Callable[[str, Body], Awaitable[Fault | None]]
"""Asked about one request, by its route and body; what it awaits holds the request up."""


@dataclass
class RequestHooks:
    """Faults given by hand, for exactly the requests that are meant."""

    before: Hook | None = None
    """Asked before the class server acts; a fault it gives is all that happens."""
    after: Hook | None = None
    """Asked once the class server has acted; a fault it gives is the answer."""


class FaultInjection:
    """Decides what goes wrong; every decision hangs on the seed and a count of its own, not on timing."""

    def __init__(self, seed: int, kinds: Iterable[str], *, rates: dict[str, float] | None = None) -> None:
        """`kinds` are some of `KINDS`; `rates` overrides the chance per request, event or person."""
        self._seed = seed
        self.kinds: frozenset[str] = frozenset()
        self.choose(kinds)
        self._rates = RATES | (rates or {})
        self._asked: Counter[str] = Counter()
        self._held: list[tuple[str, Json]] = []
        self._tasks: set[asyncio.Task[None]] = set()
        self._gateway: Gateway | None = None
        self.happened: Counter[str] = Counter()

    def choose(self, kinds: Iterable[str]) -> None:
        """Let these kinds of fault happen from now on, and no others; raises `ValueError` for one that is not known."""
        unknown = set(kinds) - set(KINDS)
        if unknown:
            raise ValueError(f"the class server knows no fault called {sorted(unknown)}")
        self.kinds = frozenset(kinds)

    def attach(self, gateway: Gateway) -> None:
        """Begin to meddle with the events of `gateway`."""
        self._gateway = gateway
        gateway.event_faults = self.for_event

    async def detach(self) -> None:
        """Stop meddling and wait for what is still under way."""
        if self._gateway is not None:
            self._gateway.event_faults = None
        for task in list(self._tasks):
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)

    def closed(self, people: Iterable[Person]) -> list[Person]:
        """Close the direct messages of some of `people` and return those; nobody, without the kind closed-dm."""
        chosen = [person for person in people if self._strikes(CLOSED_DM, person.name) is not None]
        for person in chosen:
            person.dms_open = False
        return chosen

    def for_request(self, route: str) -> Fault | None:
        """Decide what befalls the next request of a route."""
        if route in SPARED:
            return None
        dice = self._strikes(LIMITS, route)
        if dice is not None:
            return self._limit(dice, route)
        dice = self._strikes(ERRORS, route)
        if dice is not None:
            return self._error(dice)
        if self._strikes(SLOW, route) is not None:
            self.happened["slow"] += 1
            return Fault(slow_s=SLOW_S)
        return None

    def for_event(self, name: str, data: Json) -> list[tuple[str, Json]]:
        """Decide what becomes of an event: itself, twice, or held back until after the next one."""
        event = (name, data)
        if name != "INTERACTION_CREATE":
            return [event]
        if self._strikes(DROPS, name) is not None:
            self._later(self._drop())
        released, self._held = self._held, []
        dice = self._strikes(TWICE, name)
        if dice is None:
            return [event, *released]
        if dice.random() < 0.5:
            self.happened["event repeated"] += 1
            return [event, *released, event]
        self.happened["event held back"] += 1
        self._held = [event]
        self._later(self._release())
        return released

    def _limit(self, dice: random.Random, route: str) -> Fault:
        choices = ["user", "shared"] if "_token}" in route else ["user", "shared", "global"]
        scope = dice.choice(choices)
        self.happened[f"429 {scope}"] += 1
        wait = round(dice.uniform(0.02, 0.2), 3)
        headers = {
            "Via": WIRE_VIA,
            "Retry-After": str(math.ceil(wait)),
            "X-RateLimit-Scope": scope,
            "X-RateLimit-Limit": "1",
            "X-RateLimit-Remaining": "0",
            "X-RateLimit-Reset-After": str(wait),
            "X-RateLimit-Bucket": "injected",
        }
        if scope == "global":
            headers["X-RateLimit-Global"] = "true"
        body = {"message": "You are being rate limited.", "retry_after": wait, "global": scope == "global", "code": 0}
        return Fault(429, body, headers)

    def _error(self, dice: random.Random) -> Fault:
        kind = dice.choice(["500", "502", "503", "reset before", "reset after"])
        self.happened[kind] += 1
        if kind == "reset before":
            return Fault(reset_before=True)
        if kind == "reset after":
            return Fault(reset_after=True)
        return Fault(int(kind), {"message": f"{kind}: a fault on purpose", "code": 0})

    async def _drop(self) -> None:
        """Break the gateway connection in one of five ways, a moment after the event left."""
        gateway = self._gateway
        if gateway is None:
            return
        dice = self._dice("drop kind", self.happened.total())
        await asyncio.sleep(dice.uniform(0.0, 0.02))
        kind = dice.choice(["cut", "half-open", "op 7", "op 9", "resume refused"])
        self.happened[kind] += 1
        if kind == "half-open":
            gateway.half_open()
            await asyncio.sleep(HALF_OPEN_S)
            await gateway.cut()
        elif kind == "op 7":
            gateway.ask_reconnect()
        elif kind == "op 9":
            gateway.invalidate(resumable=dice.random() < 0.5)
        else:
            gateway.refuse_next_resume = kind == "resume refused"
            await gateway.cut()

    async def _release(self) -> None:
        await asyncio.sleep(HELD_BACK_S)
        held, self._held = self._held, []
        if self._gateway is not None:
            for name, data in held:
                for session in self._gateway.listeners():
                    self._gateway.dispatch(session, name, data)

    def _later(self, work: Any) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    def _strikes(self, kind: str, where: str) -> random.Random | None:
        """Return dice for the details if this kind of fault strikes here this time."""
        if kind not in self.kinds:
            return None
        key = f"{kind}|{where}"
        self._asked[key] += 1
        dice = self._dice(key, self._asked[key])
        return dice if dice.random() < self._rates[kind] else None

    def _dice(self, key: str, count: int) -> random.Random:
        return random.Random(f"{self._seed}|{key}|{count}")
