"""In which order squads are picked to be explained."""

from bot.rules.results.preview import in_order
from bot.rules.scoring.standings import standings
from tests.rules.books import counted_book


def test_squads_stand_by_place_and_while_one_is_not_ranked_by_number() -> None:
    whole = counted_book([[1], [3], [2]], [1])
    assert [row.squad_id for row in in_order(standings(whole))] == [2, 3, 1]
    gap = whole.model_copy(update={"attempts": whole.attempts[1:]})
    assert [row.squad_id for row in in_order(standings(gap))] == [1, 2, 3]
