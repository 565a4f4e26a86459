"""From what was recorded to one exact value: attempts, sheets."""

from decimal import Decimal
from fractions import Fraction

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scoring.measures import attempt_value, sheet_value, squad_value
from bot.rules.scoring.scales import Roots, scaled
from storage.records.plan_measures import Check, Checklist, Count, Item, Measure, Number
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


MISTAKES = Count(
    key="mistakes",
    name="Mistakes",
    better="lower",
    items=(Item(key="slip", name="Slip", points=Decimal(1)), Item(key="fall", name="Fall", points=Decimal(3))),
    maximum=Decimal(20),
)


MASS = Number(key="mass", name="Mass", unit="kg", decimals=2, highest=Decimal(50))


GAP = Number(key="gap", name="Gap", unit="cm", decimals=1, highest=Decimal(30), better="lower")


BRIDGE = Checklist(
    key="bridge",
    name="Bridge",
    lines=(
        Check(key="stands", name="It stands", points=Decimal(3)),
        Check(key="paper", name="Paper only", points=Decimal(1)),
        Check(key="glue", name="Glue was used", points=Decimal(-2)),
    ),
)


def measured(measure: Measure, **what: object) -> Fraction | None:
    return attempt_value(measure, attempt(1, f"e.{measure.key}", **what))  # type: ignore[arg-type]


def test_where_lower_is_better_points_off_are_added_and_the_lowest_attempt_counts() -> None:
    assert measured(MISTAKES, items={"slip": 2, "fall": 1}) == 5
    assert measured(MISTAKES, items={"slip": 2}, deductions=Decimal("1.5")) == Fraction(7, 2)
    assert squad_value(MISTAKES, [Fraction(15), Fraction(2)]) == 2
    best_two = MISTAKES.model_copy(update={"keep": "mean-of-best-two", "attempts": 3})
    assert squad_value(best_two, [Fraction(9), Fraction(2), Fraction(4)]) == 3


def test_a_named_penalty_costs_its_points_and_nothing_falls_below_zero() -> None:
    run = Count(
        key="run",
        name="Run",
        items=(Item(key="sock", name="Sock"), Item(key="touch", name="Touch", points=Decimal("-2.5"))),
        maximum=Decimal(100),
    )
    assert measured(run, items={"sock": 3, "touch": 2}) == 25
    assert measured(run, items={"sock": 0, "touch": 2}) == 0


def test_a_measured_value_is_exact_and_bounded_by_the_plan() -> None:
    assert measured(MASS, amount=Decimal("12.35")) == Fraction(247, 20)
    assert measured(MASS, amount=Decimal("12.3500")) == Fraction(247, 20)
    for amount, reason in ((None, "attempt_amount"), ("50.01", "attempt_amount"), ("-1", "attempt_amount"),
                           ("1.235", "attempt_decimals")):  # fmt: skip
        with pytest.raises(Refusal) as refused:
            measured(MASS, amount=None if amount is None else Decimal(amount))
        assert refused.value.reason == reason


def test_a_checklist_adds_the_points_of_its_yes_lines() -> None:
    assert measured(BRIDGE, items={"stands": 1, "paper": 1, "glue": 0}) == 4
    assert measured(BRIDGE, items={"stands": 1, "paper": 0, "glue": 1}) == 1
    assert measured(BRIDGE, items={"glue": 1}) == 0
    with pytest.raises(Refusal):
        measured(BRIDGE, items={"stands": 2})
    assert scaled(BRIDGE, {1: Fraction(4), 2: Fraction(1)}, Roots()) == {1: 1, 2: Fraction(1, 4)}
