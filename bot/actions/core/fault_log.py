"""A fault of our own: a short code for the person, the place in the code for the log, and nobody's words in either."""

import hashlib
import logging
import traceback
from base64 import b32encode
from typing import Any

OURS = ("bot.", "storage.")
EVERYWHERE = "storage.tables.sql_session"
"""Every statement goes through it: where it was called is the place."""


def fault_code(error: BaseException) -> str:
    """Eight letters and digits: the same for one kind of mistake in one function, wherever its lines are.

    The function is the innermost of our own: a library's would give one code to every mistake in the use of it.
    Eight are enough for no two functions to share a code (40 bits, RFC 4648's alphabet, in which no 0 or 1 is).
    """
    places = [
        (frame.f_globals.get("__name__", ""), frame.f_code.co_qualname)
        for frame, _ in traceback.walk_tb(error.__traceback__)
    ]
    ours = [place for place in places if place[0].startswith(OURS) and place[0] != EVERYWHERE]
    where = ":".join((ours or places or [("", "")])[-1])
    return code_of(type(error).__name__, where)


def code_of(kind: str, where: str) -> str:
    """The code of a kind of mistake in a function, which is named by its module: `bot.app:main`."""
    return b32encode(hashlib.sha256(f"{kind}@{where}".encode()).digest())[:8].decode()


def log_fault(log: logging.Logger, doing: str, error: BaseException) -> str:
    """Log a fault under its code and return the code.

    The text of the error is left out: it may quote what people wrote.
    """
    code = fault_code(error)
    stack = "".join(traceback.format_tb(error.__traceback__))
    log.error("fault %s while %s: %s\n%s", code, doing, type(error).__name__, stack)
    return code


def log_loop_fault(log: logging.Logger, context: dict[str, Any]) -> None:
    """Log what the event loop could give to nobody else."""
    error = context.get("exception")
    if isinstance(error, BaseException):
        log_fault(log, "doing something beside", error)
    else:
        log.error("%s", context.get("message"))
