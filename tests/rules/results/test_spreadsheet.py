"""In which order the lines of the spreadsheet stand."""

from bot.rules.results.spreadsheet import squads_in_order, students_in_order
from bot.rules.scoring.standings import standings
from tests.rules.books import counted_book
from tests.rules.squads.test_students_admin import ANN, BOB, MOLES, ZOE


def test_students_stand_squad_by_squad_and_squads_best_first_then_those_not_ranked() -> None:
    assert students_in_order([(MOLES, [BOB, ANN]), (None, [ZOE])]) == [(BOB, MOLES), (ANN, MOLES), (ZOE, None)]
    whole = counted_book([[1], [3], [2]], [1])
    gap = whole.model_copy(update={"attempts": whole.attempts[1:]})
    assert [row.squad_id for row in squads_in_order(standings(gap))] == [2, 3, 1]
