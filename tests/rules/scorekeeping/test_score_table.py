"""When an attempt is entered at the table or corrected, and which squad is next (common practice, no source)."""

from bot.rules.scorekeeping.score_table import following, may_enter, opens_at_once


def test_after_the_close_only_a_first_attempt_or_a_run_off_is_entered() -> None:
    assert may_enter(1, 2, absent=False, tied=False, settled=False)
    assert may_enter(0, 2, absent=False, tied=False, settled=True)
    assert not may_enter(1, 2, absent=False, tied=False, settled=True)
    assert may_enter(2, 2, absent=False, tied=True, settled=True)
    assert not may_enter(2, 2, absent=False, tied=False, settled=False)
    assert not may_enter(0, 2, absent=True, tied=False, settled=False)


def test_a_table_with_one_measure_opens_at_its_squads_unless_a_clock_runs() -> None:
    assert opens_at_once(1, 0)
    assert not opens_at_once(2, 0)
    assert not opens_at_once(1, 1)


def test_the_next_number_with_attempts_left_comes_and_round_again() -> None:
    assert following([1, 2, 3, 4], {1, 2, 4}, 2) == 4
    assert following([1, 2, 3, 4], {1, 2}, 3) == 1
    assert following([1, 2, 3, 4], {3}, 3) is None
