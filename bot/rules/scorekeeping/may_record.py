"""What may be recorded at the table now: before the close of judging, after it, and once the result stands."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State, Tryout


def check_begun(tryout: Tryout) -> None:
    """There may be something to see at the table, or a Refusal: `table_not_yet`."""
    if tryout.state in ("drafting", "signup"):
        raise Refusal(Reason.TABLE_NOT_YET)


def check_open(tryout: Tryout) -> None:
    """Attempts may be recorded now, or a Refusal: `table_not_yet`, `table_closed`."""
    check_begun(tryout)
    if tryout.result_stands:
        raise Refusal(Reason.TABLE_CLOSED)


def may_record(state: State, nothing_there: bool, opened: bool) -> bool:
    """Whether something at the table may change: always before the close; after it what is missing, or was opened."""
    return state != "settled" or nothing_there or opened
