"""What every REST route shares: authorisation, injected faults, rate limits, the log, errors turned into answers."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Awaitable, Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from aiohttp import web

from deploy.rehearsal.limits.field_checks import whole_number
from deploy.rehearsal.server.afterwards import Afterwards
from deploy.rehearsal.server.platform_faults import Fault, FaultInjection, RequestHooks
from deploy.rehearsal.server.rate_limits import WIRE_VIA, Buckets, Limited
from deploy.rehearsal.server.request_log import RequestLog
from deploy.rehearsal.wire.request_bodies import Body, read_body
from deploy.rehearsal.world.api_errors import Refused

BASE = "/api/v10"
JSON_TYPE = "application/json"
"""Exactly this: with a charset behind it the chat library takes the body for text."""
SENT_AT_ONCE = 32 * 1024
"""So many bytes leave without waiting: asyncio waits from twice as many on that the system does not take."""


@dataclass(frozen=True)
class Call:
    """One request as a route sees it: the identifiers of its path, its query and its body."""

    ids: dict[str, str]
    query: dict[str, str]
    body: Body

    def number(self, name: str) -> int:
        """Return an identifier of the path as a number; raises `Refused` for one that is none."""
        return whole_number(self.ids[name], (name,))

    def asked(self, name: str, otherwise: int) -> int:
        """Return a number of the query; raises `Refused` for one that is none."""
        return whole_number(self.query.get(name, otherwise), (name,))


@dataclass(frozen=True)
class Answer:
    """What a route returns: a status and a JSON body, or no body at all."""

    status: int = 200
    body: Any = None


Handler = Callable[[Call], Answer]
Table = dict[str, Handler]
"""Routes by "METHOD /path/{id}", written as the published schema writes them."""


class RestApi:
    """Wraps every route in what all of them share."""

    def __init__(
        self,
        token: str,
        request_log: RequestLog,
        buckets: Buckets,
        faults: FaultInjection | None,
        afterwards: Afterwards,
    ) -> None:
        self._token = token
        self._request_log = request_log
        self._buckets = buckets
        self._faults = faults
        self._afterwards = afterwards
        self.hooks = RequestHooks()

    def add(self, app: web.Application, table: Table) -> None:
        """Register the routes of a table."""
        for route, handler in table.items():
            method, _, path = route.partition(" ")
            app.router.add_route(method, BASE + path, self._wrapped(route, handler))

    async def unknown(self, request: web.Request) -> web.Response:
        """Answer a path that the class server does not have."""
        self._request_log.unknown(f"{request.method} {request.path.removeprefix(BASE)}")
        return _json(404, {"message": "404: Not Found", "code": 0})

    def _wrapped(self, route: str, handler: Handler) -> Callable[[web.Request], Awaitable[web.StreamResponse]]:
        async def serve(request: web.Request) -> web.StreamResponse:
            body = await self._read(route, request)
            if isinstance(body, Refused):
                return self._refusal(route, body, {})
            self._request_log.request(route, body)
            fault = await self.hooks.before(route, body) if self.hooks.before else None
            if fault is None and self._faults:
                fault = self._faults.for_request(route)
            instead = _instead(fault, request)
            if instead is not None:
                return instead
            if self._faults is None and self.hooks.after is None:
                return await self._serve_first(route, handler, request, body)
            response = self._serve(route, handler, request, body)
            if fault is not None and fault.reset_after:
                return _reset(request)
            if fault is not None and fault.slow_s:
                await asyncio.sleep(fault.slow_s)
            fault = await self.hooks.after(route, body) if self.hooks.after else None
            instead = _instead(fault, request)
            return response if instead is None else instead

        return serve

    async def _read(self, route: str, request: web.Request) -> Body | Refused:
        try:
            self._authorise(route, request)
            return await read_body(request)
        except Refused as refused:
            return refused

    async def _serve_first(self, route: str, handler: Handler, request: web.Request, body: Body) -> web.Response:
        """Serve a request, and only when the answer is on its way do what the bot need not wait for."""
        self._afterwards.hold()
        try:
            response = self._serve(route, handler, request, body)
            # A longer one might have to wait for the network, and others would be served meanwhile.
            if (response.content_length or 0) <= SENT_AT_ONCE:
                with suppress(ConnectionError):
                    await response.prepare(request)
                    await response.write_eof()
            return response
        finally:
            self._afterwards.release()

    def _serve(self, route: str, handler: Handler, request: web.Request, body: Body) -> web.Response:
        ids = dict(request.match_info)
        try:
            headers = self._buckets.take(route, _resource(ids), interaction=_by_token(route))
        except Limited as limited:
            self._request_log.response(route, 429, limited.body())
            return _json(429, limited.body(), limited.headers)
        try:
            answer = handler(Call(ids, dict(request.query), body))
        except Refused as refused:
            return self._refusal(route, refused, headers)
        except Exception as fault:
            self._request_log.server_failed(route, fault)
            raise
        self._request_log.response(route, answer.status, answer.body)
        return _json(answer.status, answer.body, headers)

    def _refusal(self, route: str, refused: Refused, headers: dict[str, str]) -> web.Response:
        self._request_log.refused(route, refused)
        body = refused.body()
        if refused.status == 429:
            body |= {"retry_after": 1.0, "global": False}
            headers = headers | {"Via": WIRE_VIA, "Retry-After": "1"}
        self._request_log.response(route, refused.status, body)
        return _json(refused.status, body, headers)

    def _authorise(self, route: str, request: web.Request) -> None:
        """Check the bot's token and name; interaction routes carry their own token in the path."""
        if _by_token(route):
            return
        if request.headers.get("Authorization") != f"Bot {self._token}":
            raise Refused(0)
        if not request.headers.get("User-Agent", "").startswith("DiscordBot ("):
            raise Refused(40333)


def _instead(fault: Fault | None, request: web.Request) -> web.StreamResponse | None:
    """What a fault puts in the place of an answer."""
    if fault is None:
        return None
    if fault.reset_before:
        return _reset(request)
    return _json(fault.status, fault.body, fault.headers) if fault.status else None


def _by_token(route: str) -> bool:
    return "_token}" in route


def _resource(ids: dict[str, str]) -> str:
    names = ("channel_id", "guild_id", "webhook_id", "webhook_token", "interaction_id", "interaction_token")
    return "/".join(ids[name] for name in names if name in ids)


def _json(status: int, body: Any, headers: dict[str, str] | None = None) -> web.Response:
    if body is None:
        return web.Response(status=status, headers=headers or {})
    raw = json.dumps(body).encode()
    return web.Response(status=status, body=raw, headers={**(headers or {}), "Content-Type": JSON_TYPE})


def _reset(request: web.Request) -> web.StreamResponse:
    """Drop the connection without an answer, as a failing network does."""
    if request.transport is not None:
        request.transport.abort()
    return web.Response(status=500)
