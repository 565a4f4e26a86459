"""What feedback picks out of a squad's own marks."""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.results.feedback_draft import draft
from bot.rules.scoring.standings import standings
from storage.records.plan_measures import Measure, Number
from storage.records.scores import ScoreBook
from tests.rules.books import attempt, count, event, judges, plan, rubric, sheet, squads, timed

SCALES: Mapping[str, dict[str, Any]] = {
    "maximum": {"maximum": Decimal(40)},
    "between": {"floor": Decimal(40), "full": Decimal(0)},
    "rank": {},
    "standard": {},
}


def book(*marks: list[int]) -> ScoreBook:
    return ScoreBook(
        plan=plan(event("patch", rubric("patch", (1, 1, 1)))),
        squads=squads(1),
        judges=judges(*[1] * len(marks)),
        sheets=tuple(sheet(1, number, "patch.patch", each) for number, each in enumerate(marks, start=1)),
    )


def test_the_two_best_criteria_are_strengths_and_the_weakest_is_the_step() -> None:
    marked = book([3, 4, 1], [4, 4, 2])
    found = draft(marked.plan, standings(marked).rows[0])
    assert [point.criterion for point in found.strengths] == ["c2", "c1"]
    assert found.step is not None and found.step.criterion == "c3"
    assert (found.step.mean, found.step.level) == (Fraction(3, 2), 2)


def test_a_squad_with_the_lowest_level_everywhere_has_no_strength_but_a_step() -> None:
    marked = book([1, 1, 1])
    found = draft(marked.plan, standings(marked).rows[0])
    assert found.strengths == () and found.strongest is None and found.step is not None


def test_below_the_upper_half_there_is_no_strength_but_what_is_strongest_so_far() -> None:
    marked = book([1, 2, 1], [2, 3, 1])
    found = draft(marked.plan, standings(marked).rows[0])
    assert found.strengths == () and found.strongest is not None and found.step is not None
    assert (found.strongest.criterion, found.strongest.mean) == ("c2", Fraction(5, 2))
    assert found.step.criterion == "c3"


def test_the_middle_of_an_odd_number_of_levels_is_not_its_upper_half() -> None:
    for mark, upper in ((2, False), (3, True)):
        marked = ScoreBook(
            plan=plan(event("patch", rubric("patch", (1,), levels=3))),
            squads=squads(1),
            judges=judges(1),
            sheets=(sheet(1, 1, "patch.patch", [mark]),),
        )
        assert bool(draft(marked.plan, standings(marked).rows[0]).strengths) is upper


def test_a_squad_with_the_top_level_everywhere_has_no_step() -> None:
    marked = book([4, 4, 4])
    found = draft(marked.plan, standings(marked).rows[0])
    assert len(found.strengths) == 2 and found.step is None


def test_measures_fill_in_where_there_are_too_few_criteria() -> None:
    counted = ScoreBook(
        plan=plan(event("run", count("socks"))), squads=squads(1), attempts=(attempt(1, "run.socks", core=60),)
    )
    found = draft(counted.plan, standings(counted).rows[0])
    assert [(point.measure, point.reached) for point in found.strengths] == [("socks", Fraction(3, 5))]
    assert found.step is None


def test_a_judge_who_does_not_count_has_no_part_in_feedback() -> None:
    marked = book([2, 3, 4], [4, 1, 1]).model_copy(update={"judges": judges(1, 0)})
    found = draft(marked.plan, standings(marked).rows[0])
    assert [point.criterion for point in found.strengths] == ["c3", "c2"]
    assert [point.mean for point in found.strengths] == [4, 3]


def measured(scale: str, values: list[int], number: bool) -> ScoreBook:
    """Squads with as many things got right as wrong; the wrong ones are counted, or a number, and less is better."""
    usual: dict[str, Any] = {"scale": scale, "maximum": None, "over_maximum": "cap", "better": "lower", **SCALES[scale]}
    less: Measure = count("slips", **usual)
    if number:
        usual |= {"key": "slips", "name": "slips", "unit": "cm", "highest": Decimal(40)}
        less = Number(**usual)
    attempts = []
    for squad, seen in enumerate(values, start=1):
        slips: dict[str, Any] = {"amount": Decimal(seen)} if number else {"core": seen}
        attempts.append(attempt(squad, "run.slips", id=squad * 10, **slips))
        attempts.append(attempt(squad, "run.socks", id=squad * 10 + 1, core=seen))
    return ScoreBook(
        plan=plan(event("run", less, count("socks"))), squads=squads(len(values)), attempts=tuple(attempts)
    )


@given(st.sampled_from(tuple(SCALES)), st.lists(st.integers(0, 40), min_size=1, max_size=4), st.booleans())
def test_what_is_worse_the_more_there_is_of_it_is_praised_only_where_there_is_none(
    scale: str, values: list[int], number: bool
) -> None:
    scored = measured(scale, values, number)
    for row in standings(scored).rows:
        value = values[row.squad_id - 1]
        found = draft(scored.plan, row)
        praised = [*found.strengths, *([found.strongest] if found.strongest else [])]
        assert value == 0 or "slips" not in [point.measure for point in praised]
        assert found.step not in praised


def test_who_made_no_mistake_is_praised_for_it() -> None:
    scored = measured("maximum", [0, 3], False)
    found = [draft(scored.plan, row) for row in sorted(standings(scored).rows, key=lambda row: row.squad_id)]
    assert [[point.measure for point in one.strengths] for one in found] == [["slips"], []]
    assert found[1].step is not None and found[1].step.measure == "socks"


@pytest.mark.parametrize("seconds", [60, 290])
def test_a_time_on_the_clock_in_the_upper_half_of_its_scale_is_a_strength(seconds: int) -> None:
    relay = timed(scale="between", floor=Decimal(300), full=Decimal(0))
    raced = ScoreBook(
        plan=plan(event("run", relay)),
        squads=squads(1),
        attempts=(attempt(1, "run.relay", seconds=Decimal(seconds)),),
    )
    assert bool(draft(raced.plan, standings(raced).rows[0]).strengths) is (seconds == 60)
