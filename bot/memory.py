"""Memory: what was read is soon forgotten, what is free goes back to the system, and garbage is looked for seldom.

Python takes its larger pieces out of the C library's heap, which keeps what was freed. Only glibc has to be
asked for that (mallopt(3), malloc_trim(3)); elsewhere it is not.
"""

import asyncio
import ctypes
import gc
import sys

from storage.tables.sql_session import forget_records

EVERY_S = 10.0
"""So often what was read is forgotten, erased names with it, and free memory given back: about a millisecond."""
GARBAGE = 50_000
"""So many new objects are made between two looks for those that nobody needs any more; a form takes about 300."""
_ARENAS = -8
"""M_ARENA_MAX of glibc's malloc.h."""


def share() -> None:
    """Have one heap for all threads, instead of holes in one for each; before there is a second thread.

    Nobody waits for it: who takes from it mostly holds the interpreter's lock.
    """
    if _glibc is not None:
        _glibc.mallopt(_ARENAS, 1)


def give_back() -> None:
    """Give what is free back to the system, such as what a backup or a picture took for a moment."""
    if _glibc is not None:
        _glibc.malloc_trim(0)


def collect_seldom() -> None:
    """Let the collector of garbage leave alone what is there by now, and look at the rest seldom.

    All of it stays, so that it need not be gone through again and again; and a burst of presses is over before
    anything would be found.
    """
    gc.freeze()
    gc.set_threshold(GARBAGE)


async def keep_small() -> None:
    """Forget what was read, and give memory back, again and again, until cancelled."""
    while True:
        await asyncio.sleep(EVERY_S)
        forget_records()
        give_back()


def _library() -> ctypes.CDLL | None:
    if sys.platform != "linux":
        return None
    library = ctypes.CDLL(None)
    return library if hasattr(library, "malloc_trim") else None


_glibc = _library()
