"""Before the network is there, while it is away, and when something odd comes over it: the real program goes on."""

import asyncio
import signal
import socket
import sys
from asyncio.subprocess import Process
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import AsyncExitStack, asynccontextmanager, contextmanager
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import pytest
from aiohttp import web

from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.machine_time import MachineTime
from deploy.rehearsal.server.platform_faults import Fault, FaultInjection
from tests.app.real_program import TOKEN, end_with, running
from tests.app.student_press import asks, line_of
from tests.bench.school import class_server, open_signup
from tests.rehearsal.wire import until

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are a matter of POSIX")

BACK_S = 120.0
"""So soon after the network we are back."""


@contextmanager
def kept_port() -> Iterator[int]:
    """A port at which nobody listens, and which nobody else is given meanwhile."""
    with socket.socket() as kept:
        kept.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        kept.bind(("127.0.0.1", 0))
        yield int(kept.getsockname()[1])


async def heard(process: Process, what: str) -> list[str]:
    """The lines of its log up to the one with these words, which are waited for."""
    assert process.stderr is not None
    lines: list[str] = []
    async with asyncio.timeout(BACK_S):
        while not lines or what not in lines[-1]:
            line = (await process.stderr.readline()).decode()
            assert line, lines
            lines.append(line)
    return lines


@asynccontextmanager
async def answering(
    answer: Callable[[web.Request], web.Response], port: int = 0, host: str = "127.0.0.1"
) -> AsyncIterator[tuple[int, list[str]]]:
    """A server that answers everything in one way; its port, and the paths it was asked for."""
    asked: list[str] = []

    async def serve(request: web.Request) -> web.Response:
        asked.append(request.path)
        return answer(request)

    app = web.Application()
    app.router.add_route("*", "/{rest:.*}", serve)
    runner = web.AppRunner(app, access_log=None, shutdown_timeout=0.1)
    await runner.setup()
    await web.TCPSite(runner, host, port).start()
    try:
        yield int(runner.addresses[0][1]), asked
    finally:
        await runner.cleanup()


async def test_the_program_may_come_up_before_the_platform_does(tmp_path: Path) -> None:
    server = ClassServer(datetime.now(UTC))
    async with AsyncExitStack() as opened:
        with kept_port() as port:
            api = f"http://127.0.0.1:{port}/api/v10"
            program = running(tmp_path, TENBELL_TOKEN=server.token, TENBELL_API=api)
            process = await opened.enter_async_context(program)
            first = await heard(process, "reach")
        await server.start(port)
        last = await heard(process, "I reach")
        await asyncio.wait_for(server.gateway.identified.wait(), BACK_S)
        ended = await end_with(process, signal.SIGTERM)
        await server.stop()
    assert [line for line in ended.log_lines() if "reach" in line] == []
    assert first[-1].endswith(
        f"I cannot reach {api}: the connection fails. Is this computer connected to the network? "
        "I keep trying; nothing is lost meanwhile.\n"
    )
    assert f"I reach {api} again, after " in last[-1]
    assert "Traceback" not in "".join(first + last)


async def test_a_stop_between_two_tries_does_not_wait_for_the_next(tmp_path: Path) -> None:
    def full(_: web.Request) -> web.Response:
        return web.Response(status=429, text="too many", headers={"Retry-After": "3600"})

    async with answering(full) as (port, asked):
        surroundings = {"TENBELL_TOKEN": TOKEN, "TENBELL_API": f"http://127.0.0.1:{port}/api/v10"}
        async with running(tmp_path, **surroundings) as process:
            await until(lambda: bool(asked), BACK_S)
            await asyncio.sleep(4)
            assert len(asked) == 1, "whoever is told to wait does not come again at once"
            ended = await end_with(process, signal.SIGTERM)
    assert ended.seconds < 3
    assert len([line for line in ended.log_lines() if "takes no requests just now" in line]) == 1


ODD = (
    ("<html>Please log in</html>", "text/html", 200),
    ('{"id": "1', "application/json", 200),
    ("[]", "application/json", 200),
    ("null", "application/json", 200),
    ('{"id": null}', "application/json", 200),
    ("<html>blocked</html>", "text/html", 403),
    ("upstream is gone", "text/plain", 503),
)


async def test_odd_answers_to_the_login_are_outlived(tmp_path: Path) -> None:
    async def outlives(folder: Path, body: str, kind: str, status: int) -> None:
        await asyncio.to_thread(folder.mkdir)
        odd = partial(web.Response, text=body, content_type=kind, status=status)
        async with answering(lambda _: odd()) as (port, asked):
            api = f"http://127.0.0.1:{port}/api/v10"
            async with running(folder, TENBELL_TOKEN=TOKEN, TENBELL_API=api) as process:
                await until(lambda: len(asked) > 1, BACK_S)
                assert process.returncode is None
                ended = await end_with(process, signal.SIGTERM)
        assert len([line for line in ended.log_lines() if "I cannot reach" in line]) == 1, (body, ended)

    await asyncio.gather(*(outlives(tmp_path / str(number), *answer) for number, answer in enumerate(ODD)))


@pytest.fixture
async def server(tmp_path: Path) -> AsyncIterator[ClassServer]:
    async with class_server(1) as there:
        await open_signup(there, tmp_path / "tenbell.db")
        yield there


async def test_after_an_outage_we_are_back_without_a_traceback(tmp_path: Path, server: ClassServer) -> None:
    async with running(tmp_path, server) as process:
        assert not (await asks(server)).failed
        port = server.port
        await server.stop()
        lost = await heard(process, " reach ")
        await server.start(port)
        assert not (await asks(server)).failed
        ended = await end_with(process, signal.SIGTERM)
    assert "Traceback" not in "".join(lost)
    told = [line for line in ended.log_lines() if " reach " in line]
    assert len(told) == 1, told


async def test_a_dead_line_is_noticed_and_made_anew(tmp_path: Path, server: ClassServer) -> None:
    """A laptop that slept, a router that forgot: the connection looks alive and carries nothing."""
    async with running(tmp_path, server) as process:
        assert not (await asks(server)).failed
        dead = line_of(server)
        server.gateway.half_open()
        await until(lambda: any(one.line not in (None, dead) for one in server.gateway.sessions.values()), BACK_S)
        assert not (await asks(server)).failed
        assert (await end_with(process, signal.SIGTERM)).code == 0


async def test_the_platform_may_be_reached_by_ipv6_only(tmp_path: Path) -> None:
    if not socket.has_ipv6:
        pytest.skip("this machine has no IPv6")

    def answer(_: web.Request) -> web.Response:
        return web.json_response({"message": "401: Unauthorized", "code": 0}, status=401)

    try:
        async with answering(answer, host="::1") as (port, asked):
            api = f"http://[::1]:{port}/api/v10"
            async with running(tmp_path, TENBELL_TOKEN=TOKEN, TENBELL_API=api) as process:
                _, complained = await asyncio.wait_for(process.communicate(), 60)
    except OSError:
        pytest.skip("this machine has no IPv6 loopback")
    assert asked == ["/api/v10/users/@me"]
    assert complained.decode().startswith("The platform refused the bot token.")


async def test_a_platform_that_does_not_take_the_commands_keeps_nobody_waiting(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    refused: list[str] = []
    faults = FaultInjection(0, [])

    def no_commands(route: str) -> Fault | None:
        if "commands" not in route:
            return None
        refused.append(route)
        return Fault(status=500, body={"message": "500: Internal Server Error", "code": 0})

    monkeypatch.setattr(faults, "for_request", no_commands)
    async with class_server(1, faults) as server:
        await open_signup(server, tmp_path / "tenbell.db")
        machine = MachineTime()
        began = machine.now()
        async with running(tmp_path, server) as process:
            machine.watch(process.pid)
            assert not (await asks(server)).failed
            seconds = machine.now() - began
            assert refused, "the commands were told"
            assert (await end_with(process, signal.SIGTERM)).code == 0
    # The chat library itself tries five times, for 25 s, before it gives up.
    assert seconds < 20
