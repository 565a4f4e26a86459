"""Reaching the platform again: pauses between tries, and how many new lines are made how soon."""

from bot.connection.reconnect_pauses import FRESH, FRESH_PAUSE_S, QUICK, QUICK_S, pause_after, pause_before_line


def test_pauses_double_up_to_eight_seconds() -> None:
    assert [pause_after(failures) for failures in (1, 2, 3, 4, 5, 6, 5000)] == [0.5, 1.0, 2.0, 4.0, 8.0, 8.0, 8.0]


def test_a_longer_pause_that_the_platform_asks_for_is_kept() -> None:
    assert pause_after(1, 60.0) == 60.0
    assert pause_after(9, 3.0) == 8.0


def test_the_sixth_new_line_within_ten_seconds_waits_until_they_are_over() -> None:
    assert pause_before_line([0.0] * (QUICK - 1), [], 1.0, resumes=True) == 0.0
    assert pause_before_line([0.0, *[0.5] * (QUICK - 1)], [], 1.0, resumes=True) == QUICK_S - 1.0
    assert pause_before_line([0.0] * QUICK, [], QUICK_S + 1.0, resumes=True) == 0.0


def test_after_a_hundred_fresh_sessions_one_in_a_hundred_seconds_but_old_ones_are_taken_up() -> None:
    assert pause_before_line([], [0.0] * FRESH, 60.0, resumes=False) == FRESH_PAUSE_S
    assert pause_before_line([], [0.0] * FRESH, 60.0, resumes=True) == 0.0
    assert pause_before_line([], [0.0] * FRESH, 20_000.0, resumes=False) == 0.0
