"""What the coach has put right is undone while it is the last, and a seat is gone back to while it is free."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads.undo_correction import check_last, check_may_go_back
from storage.records.decisions_and_corrections import Correction
from storage.records.people import Student
from tests.words.invented import squad

MOVED = datetime(2027, 1, 12, 12, tzinfo=UTC)


def correction(number: int, undone: datetime | None = None) -> Correction:
    return Correction(
        id=number, tryout_id=1, kind="move", student_id=1, before={}, after={}, made_at=MOVED, undone_at=undone
    )


def member(number: int, hours: int) -> Student:
    joined = MOVED + timedelta(hours=hours)
    return Student(
        id=number, tryout_id=1, platform_id=None, name=f"Ada {number}", section="7-A", squad_id=1, joined_at=joined
    )


def test_only_the_last_correction_that_still_stands_is_undone() -> None:
    assert check_last(correction(2), correction(2)) == correction(2)
    for one, last in ((None, None), (correction(1), correction(2)), (correction(2, MOVED), None)):
        with pytest.raises(Refusal, match="correction_gone"):
            check_last(one, last)


def test_nobody_goes_back_to_a_squad_that_is_out_has_run_or_is_full_by_now() -> None:
    old, three = squad(1, "Moles"), [member(number, -number) for number in (1, 2, 3)]
    check_may_go_back(None, [], 3, 0, MOVED)
    check_may_go_back(old, three[:2], 3, 0, MOVED)
    check_may_go_back(old, three, 3, 0, MOVED)
    for one, members, attempts in (
        (old.model_copy(update={"withdrawn": True}), [], 0),
        (old, [], 1),
        (old, [*three[:2], member(4, 1)], 0),
    ):
        with pytest.raises(Refusal, match="correction_hangs"):
            check_may_go_back(one, members, 3, attempts, MOVED)
