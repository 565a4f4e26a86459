"""A fault of our own: a short code for the person, the place in the code for the log, and nobody's words in either."""

import hashlib
import logging
import traceback
from types import TracebackType
from typing import Any

_Raised = tuple[type[BaseException], BaseException, TracebackType | None] | tuple[None, None, None]


def fault_code(error: BaseException) -> str:
    """Six letters and digits that stay the same for the same mistake at the same place."""
    frames = traceback.extract_tb(error.__traceback__)
    where = f"{_in_the_house(frames[-1].filename)}:{frames[-1].name}" if frames else ""
    return hashlib.sha256(f"{type(error).__name__}@{where}".encode()).hexdigest()[:6].upper()


def _in_the_house(filename: str) -> str:
    """A file by its last three folders, so that equal names in two folders are two places, wherever it is installed."""
    return "/".join(filename.replace("\\", "/").split("/")[-4:])


def log_fault(log: logging.Logger, doing: str, error: BaseException) -> str:
    """Log a fault under its code and return the code.

    The text of the error is left out: it may quote what people wrote.
    """
    code = fault_code(error)
    stack = "".join(traceback.format_tb(error.__traceback__))
    log.error("fault %s while %s: %s\n%s", code, doing, type(error).__name__, stack)
    return code


class PlainFormatter(logging.Formatter):
    """For the log as a whole: what a library logs with an exception becomes one line, without the exception's text."""

    def formatException(self, ei: _Raised) -> str:  # noqa: N802 - the library's name
        """The kind of the exception, its code, and where it was raised."""
        error = ei[1]
        if error is None:
            return ""
        frames = traceback.extract_tb(error.__traceback__)
        where = f" at {frames[-1].filename}:{frames[-1].lineno}" if frames else ""
        return f"{type(error).__name__}, code {fault_code(error)}{where}"


def log_loop_fault(log: logging.Logger, context: dict[str, Any]) -> None:
    """Log what the event loop could give to nobody else."""
    error = context.get("exception")
    if isinstance(error, BaseException):
        log_fault(log, "doing something beside", error)
    else:
        log.error("%s", context.get("message"))
