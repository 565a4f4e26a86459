"""After judging is closed totals can be seen: when corrections at the table are asked for, which two agree to."""

from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.core.second_coach import COOLING, may_break
from storage.records.scores import LateChange
from storage.records.tryout import State


def check_settled(state: State) -> None:
    """Corrections are asked for between the close of judging and the announcement.

    Raises Refusal: `table_closed`, `correction_early`.
    """
    if state in ("announced", "archived"):
        raise Refusal(TableReason.TABLE_CLOSED)
    if state != "settled":
        raise Refusal(TableReason.CORRECTION_EARLY)


def check_may_agree(asked: LateChange | None, by_another: bool, now: datetime) -> LateChange:
    """A correction that was asked for is opened once: by another coach at once, by the one who asked after a wait.

    Raises Refusal: `out_of_date` where it is open, or shut by an announcement; `reopening_waits` (at).
    """
    if asked is None or asked.agreed_at is not None or asked.shut_at is not None:
        raise Refusal(Reason.OUT_OF_DATE)
    if not may_break(asked.asked_at, by_another, now):
        raise Refusal(Reason.REOPENING_WAITS, at=int(alone_from(asked.asked_at).timestamp()))
    return asked


def alone_from(asked_at: datetime) -> datetime:
    """From when on a coach who asked can agree alone."""
    return asked_at + COOLING
