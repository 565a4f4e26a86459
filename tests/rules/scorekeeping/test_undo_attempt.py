"""Which attempt can be undone."""

from datetime import UTC, datetime

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scorekeeping.undo_attempt import check_last, last_of
from storage.records.scores import Attempt

NOW = datetime(2027, 1, 21, 9, 0, tzinfo=UTC)


def attempt(number: int, run_off: bool = False) -> Attempt:
    return Attempt(
        id=number + 10 * run_off,
        squad_id=1,
        event="run",
        measure="socks",
        number=number,
        run_off=run_off,
        recorded_by=9,
        recorded_at=NOW,
    )


def test_only_the_last_attempt_is_undone_and_a_run_off_before_all_others() -> None:
    made, off = [attempt(1), attempt(2)], [attempt(1, True)]
    assert last_of([], []) is None
    assert (last_of(made, []), last_of(made, off)) == (made[1], off[0])
    check_last(made, off, off[0].id)
    with pytest.raises(Refusal, match="attempt_gone"):
        check_last(made, off, made[1].id)
