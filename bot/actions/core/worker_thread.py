"""Work beside the event loop: pictures and long sums, one after the other in a thread of their own.

One thread, because the drawing library is not made for several, and because a class server never needs two pictures
at once as much as it needs the loop.
"""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

T = TypeVar("T")
TRIES = 3
"""How often something is prepared when each time the database has changed meanwhile."""


class Outdated(Exception):
    """What was prepared beside the loop does not fit what the database holds by now: prepare it anew."""


_THREAD = ThreadPoolExecutor(max_workers=1, thread_name_prefix="aside")


async def run_in_worker(work: Callable[[], T]) -> T:
    """Do the work in its turn and return what it makes; what it raises is raised here."""
    return await asyncio.get_running_loop().run_in_executor(_THREAD, work)
