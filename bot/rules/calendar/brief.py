"""The brief: from when on it can be read, and at which page it counts as read.

Before it is out nobody reads it; once it is, everybody on the class server does.
"""

from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason


def check_out(brief_at: datetime | None, planned: datetime) -> None:
    """It can be read once it is out. Raises Refusal `brief_not_out` (brief: when it is planned)."""
    if brief_at is None:
        raise Refusal(Reason.BRIEF_NOT_OUT, brief=int(planned.timestamp()))


def is_read(page: int, pages: int) -> bool:
    """Whether who sees this page (from 0) of so many has read the brief: at the last one."""
    return page >= pages - 1
