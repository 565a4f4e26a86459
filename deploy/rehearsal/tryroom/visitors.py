"""Who may ask the page: who has the room's key or one person's, under a name of this machine, from the page itself."""

from __future__ import annotations

import hashlib
import hmac
from secrets import token_urlsafe

from aiohttp import web

from deploy.rehearsal.world.state import Person, World

MARK = "X-Try-Room"
"""A header that only the page itself can send: another site would have to ask first, and is refused."""


class Visitor:
    """Who asks: with the room's key one may be anyone, with a person's key only that person."""

    def __init__(self, only: Person | None) -> None:
        self.only = only

    @property
    def runs_it(self) -> bool:
        """Whether this visitor may move the clock and break things."""
        return self.only is None


class Visitors:
    """The keys of one room, and the names of this machine that are taken; `open_to_network` lets persons' keys in."""

    def __init__(self, world: World, *, open_to_network: bool) -> None:
        """Keys are new each time."""
        self._world = world
        self._secret = token_urlsafe(24)
        self._open = open_to_network
        self._hosts: set[str] = set()

    @property
    def key(self) -> str:
        """The key with which one may be anyone."""
        return self._secret

    def key_of(self, person: Person) -> str:
        """The key with which one is this person and nobody else."""
        return hmac.new(self._secret.encode(), str(person.id).encode(), hashlib.sha256).hexdigest()[:32]

    def take(self, *hosts: str) -> None:
        """Take these names of this machine, each with its port."""
        self._hosts.update(hosts)

    def of(self, request: web.Request) -> Visitor | None:
        """Return who asks; nothing for a wrong key, and for a name of this machine that somebody else has given it."""
        if request.host not in self._hosts:
            return None
        key = request.match_info["key"].encode()
        if hmac.compare_digest(key, self._secret.encode()):
            return Visitor(None)
        if not self._open:
            return None
        for person in self._world.people.values():
            if not person.bot and hmac.compare_digest(key, self.key_of(person).encode()):
                return Visitor(person)
        return None


def from_the_page(request: web.Request) -> bool:
    """Whether the page itself asks, and no other site in its name."""
    origin = request.headers.get("Origin")
    site = request.headers.get("Sec-Fetch-Site", "same-origin")
    return (
        request.headers.get(MARK) == "1"
        and origin in (None, f"http://{request.host}")
        and site in ("same-origin", "none")
        and request.content_type == "application/json"
    )
