"""The log as a whole: what a line of it looks like, and which libraries may write into it."""

import logging
import traceback
import warnings
from types import TracebackType

from bot.actions.core.fault_log import fault_code

LINE = "%(asctime)s %(levelname)s %(name)s: %(message)s"
_Raised = tuple[type[BaseException], BaseException, TracebackType | None] | tuple[None, None, None]


def set_up_log() -> None:
    """Write the log to the standard error, from the level INFO on, without anybody's words."""
    handler = logging.StreamHandler()
    handler.setFormatter(PlainFormatter(LINE))
    logging.basicConfig(level=logging.INFO, handlers=[handler])
    keep_libraries_quiet()


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


CHATTY, QUOTING = ("discord", "aiohttp", "apscheduler"), ("fontTools", "fpdf", "openpyxl", "PIL")
"""Libraries that say too much; and those that read and draw what people typed, and would quote it: `fpdf` lists the
letters that a font lacks, which is a whole name in some scripts."""


def keep_libraries_quiet() -> None:
    """Let libraries into the log only where they quote nobody."""
    for level, libraries in ((logging.WARNING, CHATTY), (logging.ERROR, QUOTING)):
        for library in libraries:
            logging.getLogger(library).setLevel(level)
    # So does openpyxl, on another way to the same place.
    warnings.filterwarnings("ignore", category=UserWarning)
