"""Who wins: places for groups of sections, and a minimum. Worked by hand (common practice, no source)."""

from decimal import Decimal

from bot.rules.scoring.standings import standings
from storage.records.plan import PlaceGroup
from storage.records.scores import ScoreBook
from tests.rules.books import counted_book

OAK, PINE = PlaceGroup(sections=("Oak", "Elm"), places=1), PlaceGroup(sections=("Pine",), places=2)


def grouped_book(totals: list[int], sections: str, qualify: object = None) -> ScoreBook:
    """One counted event; sections by their first letters, one for each squad."""
    made = counted_book([[total] for total in totals], [1])
    names = {"O": "Oak", "E": "Elm", "P": "Pine"}
    grouped = made.plan.model_copy(
        update={
            "sections": ("Oak", "Elm", "Pine"),
            "places": 3,
            "place_groups": (OAK, PINE),
            "qualify": None if qualify is None else Decimal(str(qualify)),
        }
    )
    there = tuple(
        one.model_copy(update={"section": names[letter]}) for one, letter in zip(made.squads, sections, strict=True)
    )
    return made.model_copy(update={"plan": grouped, "squads": there})


def test_each_group_of_sections_fills_its_own_places() -> None:
    found = standings(grouped_book([90, 80, 70, 60, 50], "OEOPP"))
    assert [row.squad_id for row in found.rows] == [1, 2, 3, 4, 5]
    assert found.placed == (1, 4, 5) and found.straddle is None
    assert [contest.squads for contest in found.contests] == [{1, 2, 3}, {4, 5}]


def test_a_tie_matters_only_within_a_group() -> None:
    across = standings(grouped_book([90, 80, 90, 60], "OOPP"))
    assert across.placed == (1, 3, 4) and across.straddle is None
    within = standings(grouped_book([90, 90, 70, 60], "OEPP"))
    assert within.placed == (3, 4)
    assert within.straddle is not None and within.straddle.squads == (1, 2) and within.straddle.places_left == 1


def test_below_the_minimum_nobody_holds_a_place_nor_ties_for_one() -> None:
    found = standings(grouped_book([90, 80, 49, 49, 50], "OOPPP", qualify=50))
    assert found.placed == (1, 5) and found.straddle is None
    nobody = standings(grouped_book([10, 10], "OO", qualify="10.5"))
    assert nobody.placed == () and nobody.straddle is None
