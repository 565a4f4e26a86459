"""A book with one thing changed."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from bot.rules.analysis.what_if import (
    NONE,
    as_wished,
    at_first,
    criterion_keys,
    read_weights,
    read_wish,
    with_scale,
    with_weights,
    without_criterion,
    without_judge,
    without_squad,
)
from bot.rules.core.refusal import Refusal
from bot.rules.scoring.scales import Scale
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.books import count, counted_book, event, judges, plan, rubric, sheet, squads
from tests.rules.reference import reference

RULES: dict[str, Scale] = {
    "percent_of_max": "maximum",
    "percent_of_best": "best",
    "min_max": "between",
    "rank_points_mean": "rank",
    "z": "standard",
}


def book_of_b6() -> ScoreBook:
    """Reference B6: five squads, three counted events worth the same, their own maxima."""
    given = reference("B6")["input"]
    book = counted_book(given["raw"], given["weights"])
    events = [
        event(each.key, count("m", maximum=Decimal(maximum)), weight=each.weight)
        for each, maximum in zip(book.plan.events, given["maxima"], strict=True)
    ]
    return book.model_copy(update={"plan": plan(*events)})


def winners(book: ScoreBook) -> list[int]:
    """Counted from 0, as the examples do."""
    result = standings(book)
    return sorted(squad - 1 for squad in (result.straddle.squads if result.straddle else result.placed))


@pytest.mark.parametrize("rule", RULES)
def test_five_scales_name_five_winners(rule: str) -> None:
    """Reference B6 (own; exact fractions, scipy for z)."""
    assert winners(with_scale(book_of_b6(), RULES[rule])) == reference("B6")["expected"]["winners"][rule]


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("gone", range(5))
def test_a_squad_that_withdraws_can_change_who_wins(rule: str, gone: int) -> None:
    """Reference B8 (own): only the scale of the maximum never reorders the rest."""
    changed = without_squad(with_scale(book_of_b6(), RULES[rule]), gone + 1)
    assert winners(changed) == reference("B8")["expected"][f"without_{gone}"][rule]


def test_the_totals_on_each_linear_scale_are_the_worked_ones() -> None:
    example = reference("B6")
    for rule in ("percent_of_max", "percent_of_best", "min_max"):
        result = standings(with_scale(book_of_b6(), RULES[rule]))
        totals = [result.row(squad).total for squad in range(1, 6)]
        assert totals == [Fraction(value) for value in example["expected"][rule]]


def test_one_measure_alone_can_be_put_on_another_scale() -> None:
    book = with_scale(book_of_b6(), "best", "e2.m")
    assert [each.measures[0].scale for each in book.plan.events] == ["maximum", "best", "maximum"]


def test_only_the_ratios_of_weights_matter_and_nothing_frozen_is_touched() -> None:
    book = counted_book([[80, 40], [50, 80]], [60, 40])
    before = book.model_dump()
    halved = with_weights(book, {"e1": 30, "e2": Fraction(20)})
    assert standings(halved).rows[0].total == standings(book).rows[0].total
    assert winners(with_weights(book, {"e1": Fraction(1, 3), "e2": Fraction(2, 3)})) == [1]
    assert winners(with_weights(book, {"e1": 0})) == [1]
    assert book.model_dump() == before


@pytest.mark.parametrize(
    ("reason", "weights"),
    [("no_event", {"e9": 1}), ("weight_negative", {"e1": -1}), ("weights_zero", {"e1": 0, "e2": 0})],
)
def test_weights_that_make_no_sense_are_refused(reason: str, weights: dict[str, int]) -> None:
    with pytest.raises(Refusal, match=reason):
        with_weights(counted_book([[1, 1]], [1, 1]), weights)


def test_a_measure_that_the_plan_does_not_know_is_refused() -> None:
    with pytest.raises(Refusal, match="no_measure"):
        with_scale(counted_book([[1]], [1]), "best", "e1.x")


def judged_book(marks: Sequence[Sequence[Sequence[int]]], **changes: Any) -> ScoreBook:
    """Squads x judges x criteria."""
    art = event("art", rubric("patch", weights=[1] * len(marks[0][0]), levels=5, **changes))
    return ScoreBook(
        plan=plan(art, tie_breaks=["art.patch.c1", "art"]),
        squads=squads(len(marks)),
        judges=judges(*[1] * len(marks[0])),
        sheets=tuple(
            sheet(squad, judge, "art.patch", row)
            for squad, panel in enumerate(marks, 1)
            for judge, row in enumerate(panel, 1)
        ),
    )


def test_without_a_judge_the_others_decide() -> None:
    book = judged_book([[[5, 5], [2, 2]], [[3, 3], [3, 3]]])
    assert winners(book) == [0]
    assert winners(without_judge(book, 1)) == [1]


def test_without_a_criterion_the_others_decide_and_it_breaks_no_tie() -> None:
    book = judged_book([[[5, 1]], [[3, 2]]])
    assert winners(book) == [0]
    left = without_criterion(book, "art.patch.c1")
    assert winners(left) == [1]
    assert left.plan.tie_breaks == ("art",)


def test_the_only_criterion_and_an_unknown_one_cannot_be_left_out() -> None:
    for key in ("art.patch.c1", "art.patch.c7", "art.x.c1", "c1"):
        with pytest.raises(Refusal, match="no_criterion"):
            without_criterion(judged_book([[[5]]]), key)
    assert criterion_keys(judged_book([[[5]]]).plan) == ()
    assert criterion_keys(judged_book([[[5, 4]]]).plan) == ("art.patch.c1", "art.patch.c2")


def test_an_event_without_a_line_keeps_its_weight() -> None:
    book = book_of_b6()
    first, second, *rest = book.plan.events
    read = read_weights(book.plan, f"{first.name.upper()}: 7,5\n\n")
    assert read[first.key] == Decimal("7.5")
    assert read[second.key] == second.weight
    assert all(read[event.key] == event.weight for event in rest)


@pytest.mark.parametrize(("line", "reason"), [("40", "weight_line"), ("Rowing: 40", "no_event")])
def test_a_line_that_names_no_event_is_refused(line: str, reason: str) -> None:
    with pytest.raises(Refusal, match=reason):
        read_weights(book_of_b6().plan, line)


def test_only_what_is_on_offer_can_be_wished() -> None:
    book = book_of_b6()
    nothing = {"scale": NONE, "panel": NONE, "judge": NONE}
    assert read_wish(book, "", nothing).scale == NONE
    for name in nothing:
        with pytest.raises(Refusal, match="out_of_date"):
            read_wish(book, "", nothing | {name: "99"})
    with pytest.raises(Refusal, match="no_judge_number"):
        read_wish(book, "", nothing, "99")


def test_what_stands_in_the_form_at_first_changes_nothing() -> None:
    book = book_of_b6()
    assert standings(as_wished(book, at_first(book.plan))) == standings(book)
