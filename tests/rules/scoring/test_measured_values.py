"""Numbers, checklists, penalties with a name, and lower is better: from what was typed to points and ties.

Check values are worked by hand (common practice, no source).
"""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import pytest

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.refusal import Refusal
from bot.rules.scoring.measures import attempt_value, squad_value
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.packet_verify import verify
from bot.rules.scoring.scales import Roots, scaled
from bot.rules.scoring.standings import standings
from storage.records.plan_measures import Check, Checklist, Count, Item, Measure, Number
from storage.records.scores import ScoreBook
from tests.rules.books import attempt, event, plan, squads

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


def made(measure: Measure, **what: object) -> Fraction | None:
    return attempt_value(measure, attempt(1, f"e.{measure.key}", **what))  # type: ignore[arg-type]


def test_where_lower_is_better_points_off_are_added_and_the_lowest_attempt_counts() -> None:
    assert made(MISTAKES, items={"slip": 2, "fall": 1}) == 5
    assert made(MISTAKES, items={"slip": 2}, deductions=Decimal("1.5")) == Fraction(7, 2)
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
    assert made(run, items={"sock": 3, "touch": 2}) == 25
    assert made(run, items={"sock": 0, "touch": 2}) == 0


def test_a_measured_value_is_exact_and_bounded_by_the_plan() -> None:
    assert made(MASS, amount=Decimal("12.35")) == Fraction(247, 20)
    assert made(MASS, amount=Decimal("12.3500")) == Fraction(247, 20)
    for amount, reason in ((None, "attempt_amount"), ("50.01", "attempt_amount"), ("-1", "attempt_amount"),
                           ("1.235", "attempt_decimals")):  # fmt: skip
        with pytest.raises(Refusal) as refused:
            made(MASS, amount=None if amount is None else Decimal(amount))
        assert refused.value.reason == reason


def test_a_checklist_adds_the_points_of_its_yes_lines() -> None:
    assert made(BRIDGE, items={"stands": 1, "paper": 1, "glue": 0}) == 4
    assert made(BRIDGE, items={"stands": 1, "paper": 0, "glue": 1}) == 1
    assert made(BRIDGE, items={"glue": 1}) == 0
    with pytest.raises(Refusal):
        made(BRIDGE, items={"stands": 2})
    assert scaled(BRIDGE, {1: Fraction(4), 2: Fraction(1)}, Roots()) == {1: 1, 2: Fraction(1, 4)}


@pytest.mark.parametrize(
    ("scale", "ends", "expected"),
    [
        ("maximum", {"maximum": Decimal(10)}, [Fraction(3, 5), Fraction(2, 5), 0]),
        ("between", {"floor": Decimal(8), "full": Decimal(4)}, [1, Fraction(1, 2), 0]),
        ("rank", {}, [1, Fraction(1, 2), 0]),
        ("best", {"lowest": Decimal(1)}, [1, Fraction(2, 3), Fraction(4, 12)]),
    ],
)
def test_every_scale_follows_the_direction(scale: str, ends: dict[str, object], expected: list[object]) -> None:
    gap = GAP.model_copy(update={"scale": scale, **ends})
    assert list(scaled(gap, {1: Fraction(4), 2: Fraction(6), 3: Fraction(12)}, Roots()).values()) == expected


def test_on_the_standard_scale_the_lower_value_stands_higher_too() -> None:
    found = scaled(GAP.model_copy(update={"scale": "standard"}), {1: Fraction(4), 2: Fraction(6)}, Roots())
    assert found == {1: Fraction(3, 5), 2: Fraction(2, 5)}


def test_no_event_exceeds_a_hundred_unless_the_plan_says_so() -> None:
    capped = MASS.model_copy(update={"maximum": Decimal(10)})
    values = {1: Fraction(20), 2: Fraction(5)}
    assert scaled(capped, values, Roots()) == {1: 1, 2: Fraction(1, 2)}
    assert scaled(capped.model_copy(update={"over_maximum": "count"}), values, Roots())[1] == 2


def book(measure: Measure, values: Sequence[object], tie_breaks: tuple[str, ...] = ()) -> ScoreBook:
    """Two events: in the first both squads are equal on the scale, the second has the measure."""
    field = "amount" if isinstance(measure, Number) else "items"
    other = measure.model_copy(update={"key": "other"})
    attempts = [attempt(n, f"e.{measure.key}", id=n, **{field: value}) for n, value in enumerate(values, 1)]
    attempts += [attempt(n, "f.other", id=9 - n, **{field: value}) for n, value in enumerate(reversed(values), 1)]
    return ScoreBook(
        plan=plan(event("e", measure), event("f", other), tie_breaks=tie_breaks),
        squads=squads(len(values)),
        attempts=tuple(attempts),
    )


def test_a_tie_is_broken_and_run_off_in_the_direction_of_the_plan() -> None:
    for measure, first in ((MASS, 2), (GAP, 1)):
        tied = book(measure, [Decimal(4), Decimal(6)])
        assert [row.rank for row in standings(tied).rows] == [1, 1]
        broken = tied.model_copy(update={"plan": tied.plan.model_copy(update={"tie_breaks": (f"e.{measure.key}",)})})
        assert [row.squad_id for row in standings(broken).rows if row.rank == 1] == [first]
        extra = [attempt(n, f"e.{measure.key}", id=20 + n, run_off=True, amount=Decimal(n)) for n in (1, 2)]
        run_off = tied.model_copy(update={"attempts": (*tied.attempts, *extra)})
        assert [row.squad_id for row in standings(run_off).rows if row.rank == 1] == [2 if measure is MASS else 1]


def test_only_times_and_what_the_plan_says_are_better_when_lower() -> None:
    assert [lower_is_better(one) for one in (MISTAKES, MASS, GAP, BRIDGE)] == [True, False, True, False]


def test_a_packet_with_measured_values_recomputes() -> None:
    for measure, values in ((GAP, [Decimal("4.5"), Decimal(6)]), (BRIDGE, [{"stands": 1}, {"stands": 1, "paper": 1}])):
        found = book(measure, values)
        packet = build(found, standings(found))
        assert all(not stage.differences for stage in verify(packet))
