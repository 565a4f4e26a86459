"""A score typed as one command: which attempt comes next, and which squads are suggested."""

from bot.rules.scorekeeping.score_command import squads_suggested, which_attempt
from tests.rules.books import squads


def test_after_the_last_attempt_of_the_plan_comes_a_run_off() -> None:
    assert [which_attempt(made, 0, 2) for made in range(3)] == [(1, False), (2, False), (1, True)]
    assert which_attempt(2, 1, 2) == (2, True)


def test_squads_are_suggested_by_number_whose_number_or_name_holds_what_was_typed() -> None:
    found = squads(12)
    assert [one.number for one in squads_suggested("1", found[::-1])] == [1, 10, 11, 12]
    assert [one.number for one in squads_suggested("SQUAD 2", found)] == [2]
