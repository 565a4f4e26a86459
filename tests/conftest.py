"""What every check shares: no network beyond this machine, and reproducible searches."""

import gc
import sys
from collections.abc import AsyncIterator
from ipaddress import ip_address
from typing import Any

import pytest_asyncio
from hypothesis import settings
from hypothesis.internal.conjecture import providers
from hypothesis.internal.constants_ast import Constants

from tests.parallel_workers import pytest_collection_modifyitems, pytest_xdist_auto_num_workers
from tests.tryroom.browser import BROWSER

__all__ = ["pytest_collection_modifyitems", "pytest_xdist_auto_num_workers"]

settings.register_profile("tenbell", deadline=None, print_blob=True, derandomize=True)
settings.register_profile("search", parent=settings.get_profile("tenbell"), derandomize=False, max_examples=1000)
settings.load_profile("tenbell")

_local_constants = providers._get_local_constants


def _constants() -> Constants:
    """The library also tries literals out of all our modules: any change in any of them would change every search."""
    return Constants() if settings().derandomize else _local_constants()


providers._get_local_constants = _constants


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
