"""A score typed as one command: which squads and measures are suggested."""

from bot.rules.scorekeeping.score_command import measures_suggested, squads_suggested
from tests.rules.books import squads


def test_squads_are_suggested_by_number_whose_number_or_name_holds_what_was_typed() -> None:
    found = squads(12)
    assert [one.number for one in squads_suggested("1", found[::-1])] == [1, 10, 11, 12]
    assert [one.number for one in squads_suggested("SQUAD 2", found)] == [2]


def test_measures_are_suggested_whose_name_holds_what_was_typed() -> None:
    assert measures_suggested("RUN", ["Sock run", "Bunting"]) == [True, False]
