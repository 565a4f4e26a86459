"""After judging is closed totals can be seen: when corrections at the table are asked for, which two agree to."""

from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State


def check_settled(state: State) -> None:
    """Corrections are asked for between the close of judging and the announcement.

    Raises Refusal: `table_closed`, `correction_early`.
    """
    if state in ("announced", "archived"):
        raise Refusal(Reason.TABLE_CLOSED)
    if state != "settled":
        raise Refusal(DayReason.CORRECTION_EARLY)
