"""Who wins: places for groups of sections, and a minimum. Worked by hand (common practice, no source)."""

from decimal import Decimal
from fractions import Fraction

from bot.rules.analysis.placing_bootstrap import judge_bootstrap
from bot.rules.analysis.robustness import firmness
from bot.rules.results.place_offers import next_in_line
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.packet_verify import verify
from bot.rules.scoring.standings import standings
from storage.records.place_offers import Offer
from storage.records.plan import PlaceGroup
from storage.records.scores import ScoreBook
from tests.rules.books import NOW, counted_book, event, judges, plan, rubric, sheet, squads

OAK, PINE = PlaceGroup(sections=("Oak", "Elm"), places=1), PlaceGroup(sections=("Pine",), places=2)


def book(totals: list[int], sections: str, qualify: object = None) -> ScoreBook:
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
    found = standings(book([90, 80, 70, 60, 50], "OEOPP"))
    assert [row.squad_id for row in found.rows] == [1, 2, 3, 4, 5]
    assert found.placed == (1, 4, 5) and found.straddle is None
    assert [contest.squads for contest in found.contests] == [{1, 2, 3}, {4, 5}]


def test_a_tie_matters_only_within_a_group() -> None:
    across = standings(book([90, 80, 90, 60], "OOPP"))
    assert across.placed == (1, 3, 4) and across.straddle is None
    within = standings(book([90, 90, 70, 60], "OEPP"))
    assert within.placed == (3, 4)
    assert within.straddle is not None and within.straddle.squads == (1, 2) and within.straddle.places_left == 1


def test_below_the_minimum_nobody_holds_a_place_nor_ties_for_one() -> None:
    found = standings(book([90, 80, 49, 49, 50], "OOPPP", qualify=50))
    assert found.placed == (1, 5) and found.straddle is None
    nobody = standings(book([10, 10], "OO", qualify="10.5"))
    assert nobody.placed == () and nobody.straddle is None


def test_a_place_is_offered_on_within_its_group_and_never_below_the_minimum() -> None:
    found = standings(book([90, 80, 70, 60, 30], "OOPPP", qualify=50))
    assert next_in_line(found, ()) == (1, 3, 4)
    declined = Offer(id=1, tryout_id=1, squad_id=1, what="a place", state="declined", made_at=NOW, answer_by=NOW)
    assert next_in_line(found, (declined,)) == (2, 3, 4)
    accepted = declined.model_copy(update={"state": "accepted"})
    gone = Offer(id=2, tryout_id=1, squad_id=3, what="a place", state="declined", made_at=NOW, answer_by=NOW)
    assert next_in_line(found, (accepted, gone)) == (4,)


def test_what_looks_at_the_order_alone_is_not_said_where_it_does_not_decide() -> None:
    found = book([90, 80, 70, 60], "OOPP")
    result = standings(found)
    firm = firmness(found, result)
    assert not result.plain and (firm.weights, firm.hold, firm.closeness) == (None, None, None)
    usual = found.plan.model_copy(update={"place_groups": ()})
    assert standings(found.model_copy(update={"plan": usual})).plain


def test_the_bootstrap_draws_the_places_of_each_group() -> None:
    """Judge 2 alone would put squad 2 before squad 1, in 1 of 4 draws; of squads 3 and 4, both hold a place."""
    marks = {(1, 1): 4, (1, 2): 1, (2, 1): 1, (2, 2): 3, (3, 1): 1, (3, 2): 1, (4, 1): 2, (4, 2): 2}
    made = ScoreBook(
        plan=plan(event("art", rubric("bunting", weights=[1]))).model_copy(
            update={"sections": ("Oak", "Elm", "Pine"), "places": 3, "place_groups": (OAK, PINE)}
        ),
        squads=tuple(
            one.model_copy(update={"section": section})
            for one, section in zip(squads(4), ("Oak", "Oak", "Pine", "Pine"), strict=True)
        ),
        judges=judges(1, 1),
        sheets=tuple(sheet(squad, judge, "art.bunting", [mark]) for (squad, judge), mark in marks.items()),
    )
    assert judge_bootstrap(made).share == {1: Fraction(3, 4), 2: Fraction(1, 4), 3: 1, 4: 1}


def test_a_packet_says_which_squads_compete_and_recomputes() -> None:
    found = book([90, 80, 70, 60, 30], "OEPPP", qualify=50)
    packet = build(found, standings(found))
    assert packet.groups == ((1, 2), (3, 4, 5))
    assert packet.results.placed == (1, 3, 4)
    stages = {stage.name: stage for stage in verify(packet)}
    assert all(stage.right for name, stage in stages.items() if name != "plan_sha256"), stages
    moved = packet.model_copy(update={"groups": ((1, 3), (2, 4, 5))})
    assert not {stage.name: stage for stage in verify(moved)}["placed"].right
