"""The class server: state, REST, gateway, clock and content behind one loopback port."""

from __future__ import annotations

import base64
import socket
from dataclasses import dataclass, field
from datetime import datetime
from typing import Protocol

from aiohttp import web

from deploy.rehearsal.limits.message_limits import OLD_EDITS
from deploy.rehearsal.server.afterwards import Afterwards
from deploy.rehearsal.server.gateway_connection import HEARTBEAT_MS, GatewaySocket
from deploy.rehearsal.server.gateway_sessions import Gateway
from deploy.rehearsal.server.interactions import Interactions
from deploy.rehearsal.server.machine_time import MachineTime
from deploy.rehearsal.server.message_publisher import Publisher
from deploy.rehearsal.server.platform_faults import FaultInjection
from deploy.rehearsal.server.rate_limits import Buckets, Paces
from deploy.rehearsal.server.request_log import RequestLog
from deploy.rehearsal.server.rest_api import BASE, RestApi, Table
from deploy.rehearsal.server.routes_account import AccountRoutes
from deploy.rehearsal.server.routes_channels import RoomRoutes
from deploy.rehearsal.server.routes_guild import MemberRoutes
from deploy.rehearsal.server.routes_interactions import InteractionRoutes
from deploy.rehearsal.server.routes_messages import NONCE_MEMORY_S, MessageRoutes
from deploy.rehearsal.server.stepped_clock import PATIENCE_S, Clock
from deploy.rehearsal.server.transcript import Transcript
from deploy.rehearsal.wire.interaction_events import Events, Interaction
from deploy.rehearsal.wire.message_objects import MessageShapes
from deploy.rehearsal.wire.openapi_schema import Schema, schema_path
from deploy.rehearsal.world.content_server import ContentServer
from deploy.rehearsal.world.state import World


class Routes(Protocol):
    """A group of routes of one subject."""

    def table(self) -> Table:
        """Return the routes by "METHOD /path/{id}"."""
        ...


@dataclass(frozen=True)
class Behaviour:
    """How this class server behaves where the platform leaves it open or keeps it secret.

    `old_edits` is how many edits a message older than an hour takes before 30046, `nonce_memory_s` the virtual seconds
    in which a repeated nonce returns the old message, `patience_s` the seconds (by `MachineTime`)
    that one step of the clock may take.
    """

    name: str = "Quillmere robot club"
    bot_name: str = "Tenbell"
    paces: Paces = field(default_factory=Paces)
    old_edits: int = OLD_EDITS
    nonce_memory_s: float = NONCE_MEMORY_S
    patience_s: float = PATIENCE_S
    heartbeat_ms: int = HEARTBEAT_MS


class ClassServer:
    """A class server on loopback that speaks the platform's public API.

    Fill `world` with people, roles and channels, then `async with` the server, start a bot against `api`, and act
    through `phones.phone.Phone`.
    """

    def __init__(
        self,
        start: datetime,
        *,
        behaviour: Behaviour | None = None,
        faults: FaultInjection | None = None,
        token: str = "",
        listening: socket.socket | None = None,
    ) -> None:
        """Prepare an empty class server at the virtual moment `start`.

        A bot that was begun before has its `token` already, and knows the socket that is `listening` on 127.0.0.1.
        """
        behaviour = behaviour or Behaviour()
        self.world = World(start, name=behaviour.name, bot_name=behaviour.bot_name)
        self.token = token or made_up_token(self.world.bot.id)
        self.content = ContentServer(self.world)
        self.gateway = Gateway(self.world)
        self.machine = MachineTime()
        self.clock = Clock(self.world.timeline, self.machine, patience_s=behaviour.patience_s)
        self.transcript = Transcript(self.world)
        self.clock.at_rest = self.transcript.seal
        path = schema_path()
        self.request_log = RequestLog(Schema(path) if path else None)
        shapes = MessageShapes(self.world, self.content)
        afterwards = Afterwards()
        self.publisher = Publisher(
            self.world, self.gateway, shapes, self.transcript, afterwards, old_edits=behaviour.old_edits
        )
        events = Events(self.world, shapes)
        self.interactions = Interactions(
            self.world, self.gateway, events, self.publisher, self.transcript, self.machine
        )
        self.interactions.on_ack = self._acknowledged
        self.faults = faults
        self._socket = GatewaySocket(self.world, self.gateway, token=self.token, heartbeat_ms=behaviour.heartbeat_ms)
        self.rest = RestApi(
            self.token, self.request_log, Buckets(self.world.timeline, behaviour.paces), faults, afterwards
        )
        self.messages = MessageRoutes(self.world, self.publisher, nonce_memory_s=behaviour.nonce_memory_s)
        self.routes: list[Routes] = [
            AccountRoutes(self.world, self._socket),
            MemberRoutes(self.world),
            RoomRoutes(self.world, self.publisher),
            self.messages,
            InteractionRoutes(self.world, self.publisher, self.interactions),
        ]
        self._listening = listening
        self._runner: web.AppRunner | None = None
        self.port = 0

    @property
    def api(self) -> str:
        """The REST base that a bot is pointed at."""
        return f"http://127.0.0.1:{self.port}{BASE}"

    @property
    def clock_address(self) -> str:
        """The address of the clock channel."""
        return f"ws://127.0.0.1:{self.port}/clock"

    async def start(self, port: int = 0) -> None:
        """Listen on 127.0.0.1; port 0 takes a free one, or that of the socket that listens already."""
        app = web.Application(client_max_size=64 * 1024 * 1024)
        app.router.add_get("/gateway", self._socket.serve)
        app.router.add_get("/gateway/", self._socket.serve)
        app.router.add_get("/clock", self.clock.serve)
        app.router.add_get("/attachments/{room}/{file}/{name}", self._fetch)
        for routes in self.routes:
            self.rest.add(app, routes.table())
        app.router.add_route("*", "/api/v10/{rest:.*}", self.rest.unknown)
        self._runner = web.AppRunner(app, access_log=None, shutdown_timeout=1.0)
        await self._runner.setup()
        # With the usual 128 a burst of more connections waits a second for the kernel's second try.
        if self._listening is None:
            await web.TCPSite(self._runner, "127.0.0.1", port, backlog=1024).start()
        else:
            await web.SockSite(self._runner, self._listening, backlog=1024).start()
        self.port = int(self._runner.addresses[0][1])
        self.content.base = f"http://127.0.0.1:{self.port}"
        self._socket.address = f"ws://127.0.0.1:{self.port}/gateway"
        if self.faults is not None:
            self.faults.attach(self.gateway)

    async def stop(self) -> None:
        """Hang up on everybody and close the port."""
        if self.faults is not None:
            await self.faults.detach()
        await self.clock.close()
        await self.gateway.close()
        if self._runner is not None:
            await self._runner.cleanup()

    async def __aenter__(self) -> ClassServer:
        await self.start()
        return self

    async def __aexit__(self, *_: object) -> None:
        await self.stop()

    def _acknowledged(self, _interaction: Interaction, milliseconds: float) -> None:
        self.request_log.acknowledged(milliseconds)

    async def _fetch(self, request: web.Request) -> web.Response:
        number = request.match_info["file"]
        file = self.content.fetch(
            int(number) if number.isdigit() else 0, request.query.get("ex", ""), request.query.get("hm", "")
        )
        if file is None:
            return web.Response(status=404, text="This content is no longer available.")
        return web.Response(body=file.data, headers={"Content-Type": file.content_type})


def made_up_token(bot_id: int) -> str:
    """Return a token in the platform's form, which begins with the bot's id; it opens nothing anywhere."""
    return f"{base64.b64encode(str(bot_id).encode()).decode()}.made-up.for-the-rehearsal"
