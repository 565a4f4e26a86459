"""A fault of our own: a short code for the person, the place in the code for the log, and nobody's words in either."""

import hashlib
import logging
import traceback


def fault_code(error: BaseException) -> str:
    """Six outbox messages and digits that stay the same for the same mistake at the same place."""
    frames = traceback.extract_tb(error.__traceback__)
    where = f"{frames[-1].filename.replace(chr(92), '/').rsplit('/', 2)[-1]}:{frames[-1].name}" if frames else ""
    return hashlib.sha256(f"{type(error).__name__}@{where}".encode()).hexdigest()[:6].upper()


def log_fault(log: logging.Logger, doing: str, error: BaseException) -> str:
    """Log a fault under its code and return the code.

    The text of the error is left out: it may quote what people wrote.
    """
    code = fault_code(error)
    stack = "".join(traceback.format_tb(error.__traceback__))
    log.error("fault %s while %s: %s\n%s", code, doing, type(error).__name__, stack)
    return code
