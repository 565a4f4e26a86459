"""The page's address on this machine: who may ask, what is answered, and how windows learn that something changed."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Awaitable, Callable
from contextlib import suppress
from importlib.resources import files as package_files
from typing import Any

from aiohttp import web

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.tryroom import guided_way_progress
from deploy.rehearsal.tryroom.break_buttons import set_broken
from deploy.rehearsal.tryroom.clock_buttons import move
from deploy.rehearsal.tryroom.page_requests import WindowState
from deploy.rehearsal.tryroom.phone_codes import codes_page, own_address
from deploy.rehearsal.tryroom.playable_people import everyone, people, what
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.tryroom.screen import AT_MOST, screen
from deploy.rehearsal.tryroom.season_page_of_room import write_season_page
from deploy.rehearsal.tryroom.visitors import Visitor, Visitors, from_the_page
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import Person, Room

LARGEST_BODY = 16 * 1024 * 1024
SCRIPTS = (
    "room.js",
    "room_requests.js",
    "form_fields.js",
    "form_drafts.js",
    "presses.js",
    "typed_commands.js",
    "draw_screen.js",
    "guided_way_pointer.js",
    "choose_person.js",
)
STATIC = {
    "": ("deploy.rehearsal.tryroom", "room.html", "text/html"),
    **{name: ("deploy.rehearsal.tryroom", name, "text/javascript") for name in SCRIPTS},
    "room.css": ("deploy.rehearsal.tryroom", "room.css", "text/css"),
    "icon.svg": ("deploy.rehearsal.tryroom", "icon.svg", "image/svg+xml"),
    "shared_messages.js": ("deploy.rehearsal.page", "shared_messages.js", "text/javascript"),
    "shared_look.css": ("deploy.rehearsal.page", "shared_look.css", "text/css"),
}
RULES = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
    "Cross-Origin-Resource-Policy": "same-origin",
}
SEASON_RULE = (
    "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'"
)
PICTURES = ("image/png", "image/jpeg", "image/gif", "image/webp")
HEARTBEAT_S = 15.0
Answer = Callable[[web.Request, Visitor], Awaitable[web.StreamResponse]]


class Web:
    """All routes; `start` listens, `address` is what a browser opens."""

    def __init__(self, room: TryRoom, *, open_to_network: bool = False) -> None:
        """`open_to_network` also takes phones of the same network, each with a key of its own."""
        self._room = room
        self._held = WindowState(room)
        self._open = open_to_network
        self._visitors = Visitors(room.server.world, open_to_network=open_to_network)
        self._changed: set[asyncio.Event] = set()
        self._runner: web.AppRunner | None = None
        self.port = 0
        room.on_change.append(self._tell)

    async def start(self, port: int) -> None:
        """Listen; port 0 takes a free one."""
        app = web.Application(client_max_size=LARGEST_BODY)
        for path, answer in {
            "people": self._people,
            "screen": self._screen,
            "events": self._events,
            "file/{file}": self._file,
            "season": self._season,
            "codes": self._codes,
        }.items():
            app.router.add_get(f"/{{key}}/{path}", self._guarded(answer))
        for path, answer in {
            "do": self._do,
            "move": self._move,
            "hold": self._hold,
            "break": self._break,
            "way": self._way,
        }.items():
            app.router.add_post(f"/{{key}}/{path}", self._guarded(answer))
        app.router.add_get("/{key}/{name:[a-z_.]*}", self._guarded(self._static))
        self._runner = web.AppRunner(app, access_log=None, shutdown_timeout=0.5)
        await self._runner.setup()
        site = web.TCPSite(self._runner, "0.0.0.0" if self._open else "127.0.0.1", port)
        await site.start()
        self.port = int(self._runner.addresses[0][1])
        self._visitors.take(f"127.0.0.1:{self.port}", f"localhost:{self.port}")

    async def stop(self) -> None:
        """Close the port."""
        self._tell()
        if self._runner is not None:
            await self._runner.cleanup()

    @property
    def address(self) -> str:
        """The address with the room's key in it."""
        return f"http://127.0.0.1:{self.port}/{self._visitors.key}/"

    def phone_address(self, host: str, person: Person) -> str:
        """The address under which a phone of the network is this person and nobody else."""
        self._visitors.take(f"{host}:{self.port}")
        return f"http://{host}:{self.port}/{self._visitors.key_of(person)}/"

    # Who may ask

    def _guarded(self, answer: Answer) -> Callable[[web.Request], Awaitable[web.StreamResponse]]:
        async def guarded(request: web.Request) -> web.StreamResponse:
            visitor = self._visitors.of(request)
            if visitor is None:
                return web.Response(status=404, text="There is nothing here.", headers=RULES)
            if request.method == "POST" and not from_the_page(request):
                return web.Response(status=403, text="Only the page itself may ask this.", headers=RULES)
            try:
                return await answer(request, visitor)
            except CastMistake as mistake:
                return _json({"mistake": str(mistake)})
            except (KeyError, ValueError, TypeError) as wrong:
                return _json({"mistake": f"That could not be read: {wrong}"}, status=400)

        return guarded

    def _me(self, request: web.Request, visitor: Visitor, name: str | None = None) -> Person:
        if visitor.only is not None:
            return visitor.only
        person = self._room.server.world.people[int(name or request.query["as"])]
        if person.bot:
            raise CastMistake("Nobody can be the bot.")
        return person

    # What is answered

    async def _static(self, request: web.Request, _: Visitor) -> web.Response:
        found = STATIC.get(request.match_info["name"])
        if found is None:
            return web.Response(status=404, text="There is nothing here.", headers=RULES)
        package, name, kind = found
        text = (package_files(package) / name).read_text("utf-8")
        return web.Response(text=text, content_type=kind, charset="utf-8", headers=RULES)

    async def _people(self, _: web.Request, visitor: Visitor) -> web.Response:
        only = None if visitor.only is None else str(visitor.only.id)
        ways = guided_way_progress.shown_ways(self._room) if visitor.runs_it else []
        return _json({"people": people(self._room), "ways": ways, "only": only, "phones": self._open})

    async def _screen(self, request: web.Request, visitor: Visitor) -> web.Response:
        return _json(self._seen(self._me(request, visitor), request.query.get("room"), request.query.get("most")))

    def _seen(self, person: Person, place: str | None, most: str | None = None) -> Json:
        """What a person sees now; it is kept, so that the person can press it."""
        data, shown = screen(self._room, person, self._place(place), most=min(2000, int(most or AT_MOST)))
        self._held.keep_shown(person, shown)
        data["way"] = guided_way_progress.shown_way(self._room, person.name)
        return data

    def _place(self, number: str | None) -> Room | None:
        return self._room.server.world.rooms.get(int(number)) if number else None

    async def _do(self, request: web.Request, visitor: Visitor) -> web.Response:
        asked = await request.json()
        person, place = self._me(request, visitor, asked.get("as")), asked.get("room")
        answer = await self._held.do(person, self._place(place), asked)
        if asked["do"] not in ("suggest", "draft"):
            answer["screen"] = self._seen(person, answer.get("room") or place, asked.get("most"))
        return _json(answer)

    async def _move(self, request: web.Request, visitor: Visitor) -> web.Response:
        asked = await request.json()
        person = self._me(request, visitor, asked.get("as"))
        if not visitor.runs_it:
            raise CastMistake("Only the window that runs the room moves the clock.")
        told = await move(self._room, person.name, str(asked["to"]), waits=bool(asked.get("wait")))
        return _json({"told": told, "screen": self._seen(person, asked.get("room"))})

    async def _hold(self, _: web.Request, visitor: Visitor) -> web.Response:
        if visitor.runs_it:
            self._room.hold()
        return _json({})

    async def _break(self, request: web.Request, visitor: Visitor) -> web.Response:
        asked = await request.json()
        person = self._me(request, visitor, asked.get("as"))
        if not visitor.runs_it:
            raise CastMistake("Only the window that runs the room breaks things.")
        await set_broken(self._room, str(asked["what"]), bool(asked["on"]), person)
        return _json({"screen": self._seen(person, asked.get("room"))})

    async def _way(self, request: web.Request, visitor: Visitor) -> web.Response:
        asked = await request.json()
        if not visitor.runs_it:
            raise CastMistake("Only the window that runs the room begins a way.")
        if asked["do"] == "begin":
            name = await guided_way_progress.begin(self._room, str(asked["key"]))
            return _json({"as": str(self._room.server.world.person(name).id)})
        person = self._me(request, visitor, asked.get("as"))
        (guided_way_progress.skip if asked["do"] == "skip" else guided_way_progress.leave)(self._room, person.name)
        return _json({"screen": self._seen(person, asked.get("room"))})

    async def _file(self, request: web.Request, visitor: Visitor) -> web.Response:
        phone = Phone(self._room.server, self._me(request, visitor))
        file = self._room.server.world.files[int(request.match_info["file"])]
        data, kind = phone.download(file), file.content_type.split(";")[0]
        if kind in PICTURES:
            return web.Response(body=data, content_type=kind, headers=RULES)
        name = "".join(letter for letter in file.name if letter.isalnum() or letter in " ._-")
        saved = {**RULES, "Content-Disposition": f'attachment; filename="{name.encode("ascii", "replace").decode()}"'}
        return web.Response(body=data, content_type="application/octet-stream", headers=saved)

    async def _season(self, _: web.Request, visitor: Visitor) -> web.StreamResponse:
        if not visitor.runs_it:
            raise CastMistake("Only the window that runs the room reads everybody's phone.")
        page = write_season_page(self._room)
        rules = {**RULES, "Content-Security-Policy": SEASON_RULE}
        return web.Response(text=page.read_text("utf-8"), content_type="text/html", charset="utf-8", headers=rules)

    async def _events(self, request: web.Request, visitor: Visitor) -> web.StreamResponse:
        """Keep a window told: a line whenever something has changed, and now and then to see whether it is there.

        Whoever is named is played in this window as long as it listens.
        """
        person = self._me(request, visitor) if visitor.only or "as" in request.query else None
        response = web.StreamResponse(headers={**RULES, "Content-Type": "text/event-stream"})
        await response.prepare(request)
        changed = asyncio.Event()
        self._changed.add(changed)
        if person is not None:
            self._room.enter(person.name)
        try:
            await response.write(b"data: here\n\n")
            while self._runner is not None and not self._stopping():
                with suppress(TimeoutError):
                    await asyncio.wait_for(changed.wait(), HEARTBEAT_S)
                word = "changed" if changed.is_set() else "still"
                changed.clear()
                room = self._room
                state = {"word": word, "now": room.now.isoformat(), "zone": room.script.zone, "moving": room.moving}
                await response.write(f"data: {json.dumps(state)}\n\n".encode())
        except ConnectionError:
            return response
        finally:
            self._changed.discard(changed)
            if person is not None:
                self._room.leave(person.name)
        return response

    async def _codes(self, _: web.Request, visitor: Visitor) -> web.Response:
        """The codes with which phones of the network become one person each."""
        if not (visitor.runs_it and self._open):
            raise CastMistake("Phones are let in by the option --phones alone.")
        try:
            host = own_address()
        except OSError:
            raise CastMistake("This computer is in no network that phones could share.") from None
        rows = [(one.name, what(self._room, one), self.phone_address(host, one)) for one in everyone(self._room)]
        return web.Response(text=codes_page(rows), content_type="text/html", charset="utf-8", headers=RULES)

    def _stopping(self) -> bool:
        return self._room.stopped

    def _tell(self) -> None:
        for changed in self._changed:
            changed.set()


def _json(data: Any, *, status: int = 200) -> web.Response:
    return web.json_response(data, status=status, headers=RULES)
