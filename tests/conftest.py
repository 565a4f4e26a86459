"""What every check shares: no network beyond this machine, reproducible searches, and the long tests first."""

import gc
import os
import sys
from collections.abc import AsyncIterator
from ipaddress import ip_address
from pathlib import Path
from typing import Any

import pytest
import pytest_asyncio
from hypothesis import settings
from hypothesis.internal.conjecture import providers
from hypothesis.internal.constants_ast import Constants

from tests.tryroom.browser import BROWSER

TESTS = Path(__file__).parent

settings.register_profile("tenbell", deadline=None, print_blob=True, derandomize=True)
settings.register_profile("search", parent=settings.get_profile("tenbell"), derandomize=False, max_examples=1000)
settings.load_profile("tenbell")

_local_constants = providers._get_local_constants


def _constants() -> Constants:
    """The library also tries literals out of all our modules: any change in any of them would change every search."""
    return Constants() if settings().derandomize else _local_constants()


providers._get_local_constants = _constants


LONG = (
    "season/test_troubled_season.py",
    "season/test_season.py",
    "app/test_garbage.py",
    "app/test_outages.py",
    "tryroom",
    "season",
    "deploy",
    "app",
    "delivery",
    "rehearsal",
    "actions/core",
    "actions/results",
    "rules/scoring",
)
"""Where tests take long or wait for other processes. They come first, so that none is left alone at the end."""


def pytest_xdist_auto_num_workers() -> int:
    """Two workers more than there are processors, since many tests wait."""
    return (os.cpu_count() or 1) + 2


def _rank(path: Path) -> int:
    inside = path.relative_to(TESTS)
    names = {inside.as_posix(), *(folder.as_posix() for folder in inside.parents)}
    return next((rank for rank, name in enumerate(LONG) if name in names), len(LONG))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Long tests first; within a folder the order stays."""
    items.sort(key=lambda item: _rank(item.path))


gc.disable()


def pytest_collection_finish() -> None:
    """The collector of garbage need not look through what is imported, nor through thousands of tests: they stay."""
    gc.collect()
    gc.freeze()
    gc.enable()


def _loopback(host: object) -> bool:
    name = host.decode() if isinstance(host, bytes) else host
    if name in (None, "", "localhost"):
        return True
    try:
        return ip_address(str(name)).is_loopback
    except ValueError:
        return False


def _stay_at_home(event: str, arguments: tuple[object, ...]) -> None:
    """Refuse to look up or reach any address that is not on this machine; sockets that are files pass."""
    if event == "socket.getaddrinfo":
        host = arguments[0]
    elif event in ("socket.connect", "socket.sendto") and isinstance(arguments[1], tuple):
        host = arguments[1][0]
    else:
        return
    if not _loopback(host):
        raise RuntimeError(f"a check tried to reach {host!r}; checks stay on this machine")


sys.addaudithook(_stay_at_home)


@pytest_asyncio.fixture(scope="module", loop_scope="module")
async def browser() -> AsyncIterator[Any]:
    """A headless browser, the same for all checks of a file; each opens windows of its own and closes them."""
    from playwright.async_api import async_playwright

    async with async_playwright() as playwright:
        opened = await playwright.chromium.launch(executable_path=BROWSER, args=["--no-sandbox", "--disable-gpu"])
        yield opened
        await opened.close()
