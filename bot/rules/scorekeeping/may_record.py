"""What may be recorded at the table now: before the close of judging, after it, and once the result stands."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.tryout import BEFORE_BRIEF, State, Tryout


def check_begun(tryout: Tryout) -> None:
    """There may be something to see at the table, or a Refusal: `table_not_yet`."""
    if tryout.state in BEFORE_BRIEF:
        raise Refusal(TableReason.TABLE_NOT_YET)


def check_open(tryout: Tryout) -> None:
    """Attempts may be recorded now, or a Refusal: `table_not_yet`, `table_closed`."""
    check_begun(tryout)
    if tryout.result_stands:
        raise Refusal(TableReason.TABLE_CLOSED)


def may_record(state: State, nothing_there: bool, opened: bool) -> bool:
    """Whether something at the table may change: always before the close; after it what is missing, or was opened."""
    return nothing_there or not needs_two(state, opened)


def needs_two(state: State, opened: bool) -> bool:
    """Whether one person alone changes nothing that is on record, and what is added is listed with the result.

    So it is once judging is closed, but for what a coach has `opened` to be corrected.
    """
    return state == "settled" and not opened


def adds_only(made: int, run_off: bool) -> bool:
    """Whether an attempt takes nothing away from what is on record: the first of a squad, or a run-off."""
    return run_off or not made
