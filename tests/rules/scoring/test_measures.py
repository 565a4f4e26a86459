"""From what was recorded to one exact value: attempts, sheets."""

from decimal import Decimal
from fractions import Fraction

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scoring.measures import attempt_value, sheet_value, squad_value
from storage.records.plan_measures import Item
from tests.rules.books import attempt, count, rubric, share, timed


def test_a_count_is_items_times_points_less_deductions() -> None:
    items = (
        Item(key="core", name="core", points=Decimal(10)),
        Item(key="dust", name="dust", points=Decimal("2.5")),
    )
    made = attempt(1, "run.samples", deductions=Decimal("1.5")).model_copy(update={"items": {"core": 3, "dust": 2}})
    assert attempt_value(count(items=items), made) == Fraction(67, 2)


def test_a_count_never_falls_below_zero() -> None:
    assert attempt_value(count(), attempt(1, "run.samples", core=2, deductions=Decimal(9))) == 0


@pytest.mark.parametrize(
    ("reason", "changes"),
    [
        ("attempt_count", {"core": -1}),
        ("attempt_count", {"core": 10_001}),
        ("attempt_deductions", {"core": 1, "deductions": Decimal(-1)}),
    ],
)
def test_a_negative_or_absurd_count_is_refused(reason: str, changes: dict[str, object]) -> None:
    with pytest.raises(Refusal) as refused:
        attempt_value(count(), attempt(1, "run.samples", **changes))
    assert refused.value.reason == reason


def test_an_item_that_the_plan_does_not_know_is_refused() -> None:
    made = attempt(1, "run.samples").model_copy(update={"items": {"gold": 1}})
    with pytest.raises(Refusal) as refused:
        attempt_value(count(), made)
    assert refused.value.fields == {"item": "gold"}


def test_a_time_is_seconds_and_fault_seconds() -> None:
    made = attempt(1, "go.relay", seconds=Decimal("92.35"), faults=2)
    assert attempt_value(timed(), made) == Fraction(10235, 100)


@pytest.mark.parametrize("seconds", [None, Decimal("300.1")])
def test_a_squad_beyond_the_limit_did_not_finish(seconds: Decimal | None) -> None:
    assert attempt_value(timed(), attempt(1, "go.relay", seconds=seconds)) is None


@pytest.mark.parametrize(
    ("reason", "changes"),
    [
        ("attempt_seconds", {"seconds": Decimal(0)}),
        ("attempt_faults", {"seconds": Decimal(9), "faults": -1}),
    ],
)
def test_an_impossible_time_is_refused(reason: str, changes: dict[str, object]) -> None:
    with pytest.raises(Refusal) as refused:
        attempt_value(timed(), attempt(1, "go.relay", **changes))
    assert refused.value.reason == reason


def test_a_share_is_contributing_over_members() -> None:
    assert attempt_value(share(), attempt(1, "patch.hands", contributing=3, members=4)) == Fraction(3, 4)


@pytest.mark.parametrize(("contributing", "members"), [(5, 4), (0, 0), (None, 4), (2, None), (-1, 3)])
def test_an_impossible_share_is_refused(contributing: int | None, members: int | None) -> None:
    with pytest.raises(Refusal, match="attempt_members"):
        attempt_value(share(), attempt(1, "patch.hands", contributing=contributing, members=members))


@pytest.mark.parametrize(("keep", "expected"), [("best", 9), ("sum", 21), ("mean-of-best-two", Fraction(16, 2))])
def test_attempts_become_one_value_as_the_plan_says(keep: str, expected: Fraction) -> None:
    assert squad_value(count(keep=keep, attempts=3), [Fraction(7), Fraction(9), Fraction(5)]) == expected


@pytest.mark.parametrize(("keep", "expected"), [("best", 70), ("sum", 245), ("mean-of-best-two", Fraction(155, 2))])
def test_the_best_time_is_the_shortest(keep: str, expected: Fraction) -> None:
    assert squad_value(timed(keep=keep, attempts=3), [Fraction(90), Fraction(70), Fraction(85)]) == expected


@pytest.mark.parametrize(("keep", "expected"), [("best", 70), ("sum", None), ("mean-of-best-two", None)])
def test_an_unfinished_attempt_spoils_a_sum_or_mean_of_times_but_not_the_best(
    keep: str, expected: Fraction | None
) -> None:
    assert squad_value(timed(keep=keep, attempts=2), [None, Fraction(70)]) == expected


def test_a_squad_without_attempts_has_no_value() -> None:
    with pytest.raises(Refusal, match="no_attempt"):
        squad_value(count(), [])


def test_a_sheet_is_the_sum_of_weight_times_level() -> None:
    assert sheet_value(rubric(weights=(3, 2, 2, 3)), {"c1": 3, "c2": 2, "c3": 2, "c4": 3}) == 26


def test_a_sheet_with_the_longest_weights_stays_exact() -> None:
    longest = "99999.9999"
    whole = sheet_value(rubric(weights=[longest] * 8), {f"c{n}": 3 for n in range(1, 9)})
    assert whole == 24 * Fraction(longest)


def test_a_missing_mark_is_refused_and_never_a_zero() -> None:
    with pytest.raises(Refusal, match="mark_missing"):
        sheet_value(rubric(), {"c1": 3})


@pytest.mark.parametrize("level", [0, -1, 5])
def test_a_level_that_the_rubric_does_not_have_is_refused(level: int) -> None:
    with pytest.raises(Refusal, match="mark_level"):
        sheet_value(rubric(), {"c1": 3, "c2": level})
