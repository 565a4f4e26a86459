"""How each judge marks: severity, spread, consistency, halo, and where judges are far apart."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.analysis.judge_profiles import JudgeView, correlation, judge_views, mark_gaps, standard_deviation
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.books import event, judges, plan, rubric, sheet, squads
from tests.rules.reference import reference


def judged_book(marks: Mapping[tuple[int, int], Sequence[int]], *weights: object) -> ScoreBook:
    """Squad and judge to marks of one rubric."""
    width = len(next(iter(marks.values())))
    return ScoreBook(
        plan=plan(event("art", rubric("patch", weights=[1] * width, levels=5))),
        squads=squads(max(squad for squad, _ in marks)),
        judges=judges(*weights),
        sheets=tuple(sheet(squad, judge, "art.patch", row) for (squad, judge), row in marks.items()),
    )


def view(book: ScoreBook, judge: int) -> JudgeView:
    return next(each for each in judge_views(standings(book)) if each.judge_id == judge)


def test_severity_is_what_a_judge_gives_below_the_average_judge() -> None:
    """Reference C2 (own), on an incomplete panel: judge 1 is harsh by 2.5 points, judge 2 lenient by 5."""
    example = reference("C2")
    marks = {(int(squad[1:]), int(judge[1:])): value for squad, judge, value in example["input"]["obs"]}
    criteria = tuple(row.model_copy(update={"levels": ("seen",) * 40}) for row in rubric(weights=[1]).criteria)
    book = ScoreBook(
        plan=plan(event("art", rubric("patch", criteria=criteria))),
        squads=squads(6),
        judges=judges(1, 1, 1, 1),
        sheets=tuple(sheet(squad, judge, "art.patch", [value]) for (squad, judge), value in marks.items()),
    )
    severity = {f"J{each.judge_number}": each.severity for each in judge_views(standings(book))}
    leniency = example["expected"]["judge_leniency"]
    assert severity == {judge: -Fraction(effect) for judge, effect in leniency.items()}


@pytest.mark.parametrize(
    ("marks", "shared"),
    [
        ({(1, 1): [3], (2, 1): [4]}, {1: 0}),
        ({(1, 1): [3], (2, 2): [4]}, {1: 0, 2: 0}),
        ({(1, 1): [3], (1, 2): [5], (2, 2): [4]}, {1: 1, 2: 1}),
        ({(1, 1): [3], (1, 2): [5], (2, 1): [3], (2, 2): [4]}, {1: 2, 2: 2}),
    ],
    ids=["one judge", "no squad in common", "one", "two"],
)
def test_how_many_squads_a_judge_has_in_common_with_others_is_counted(
    marks: dict[tuple[int, int], list[int]], shared: dict[int, int]
) -> None:
    found = judge_views(standings(judged_book(marks, *(1 for _ in shared))))
    assert {one.judge_id: one.shared for one in found} == shared


def test_consistency_is_the_correlation_with_the_other_judges() -> None:
    table = np.random.default_rng(4).integers(1, 6, (8, 3))
    marks = {(s + 1, j + 1): [int(table[s, j])] for s in range(8) for j in range(3)}
    rest = (table[:, 1] + table[:, 2]) / 2
    assert view(judged_book(marks, 1, 1, 1), 1).consistency == pytest.approx(np.corrcoef(table[:, 0], rest)[0, 1])


def test_single_level_sheets_and_spread_are_counted() -> None:
    marks = {(1, 1): [3, 3, 3], (2, 1): [4, 4, 4], (3, 1): [1, 2, 5], (4, 1): [2, 2, 2]}
    found = view(judged_book(marks, 1), 1)
    assert found.single_level == Fraction(3, 4)
    assert found.sheets == 4
    assert found.spread == pytest.approx(np.std([9, 12, 8, 6], ddof=1))


def test_halo_is_the_mean_correlation_among_criteria() -> None:
    columns = np.random.default_rng(6).integers(1, 6, (7, 3))
    marks = {(squad + 1, 1): columns[squad].tolist() for squad in range(7)}
    pairs = np.asarray(np.corrcoef(columns.T))[np.triu_indices(3, 1)]
    assert view(judged_book(marks, 1), 1).halo == pytest.approx(pairs.mean())


def test_what_cannot_be_said_of_one_judge_and_one_squad_is_none() -> None:
    found = view(judged_book({(1, 1): [3]}, 1), 1)
    assert (found.spread, found.consistency, found.single_level, found.halo) == (None, None, None, None)
    assert found.severity == 0


def test_a_judge_who_gives_everybody_the_same_has_no_consistency() -> None:
    marks = {(squad, judge): [3 if judge == 1 else squad] for squad in range(1, 5) for judge in (1, 2)}
    found = view(judged_book(marks, 1, 1), 1)
    assert (found.spread, found.consistency) == (0, None)


def test_judges_two_levels_apart_are_pointed_out_without_saying_who() -> None:
    marks = {(1, 1): [1, 4], (1, 2): [3, 4], (2, 1): [2, 2], (2, 2): [3, 5], (2, 3): [2, 4]}
    gaps = mark_gaps(standings(judged_book(marks, 1, 1, 1)))
    assert [(gap.squad_id, gap.criterion, gap.lowest, gap.highest) for gap in gaps] == [
        (1, "c1", 1, 3),
        (2, "c2", 2, 5),
    ]
    assert not any("judge" in name for name in gaps[0].__slots__)


def test_a_judge_who_does_not_count_is_not_described() -> None:
    marks = {(squad, judge): [squad] for squad in (1, 2) for judge in (1, 2)}
    assert [each.judge_id for each in judge_views(standings(judged_book(marks, 1, 0)))] == [1]


def test_before_the_first_sheet_there_are_no_views() -> None:
    book = judged_book({(1, 1): [3]}, 1).model_copy(update={"sheets": ()})
    assert judge_views(standings(book)) == ()
    assert mark_gaps(standings(book)) == ()


def test_correlation_gives_the_published_jackknife() -> None:
    """Reference D1 (Efron and Tibshirani 1993, law-school data): r and all its leave-one-out values."""
    example = reference("D1")
    xs, ys = example["input"]["x"], example["input"]["y"]
    assert correlation(xs, ys) == pytest.approx(example["expected"]["r"])
    assert correlation(xs, ys) == pytest.approx(example["published"]["r"], abs=5e-4)
    left_out = [correlation(xs[:i] + xs[i + 1 :], ys[:i] + ys[i + 1 :]) for i in range(len(xs))]
    assert left_out == pytest.approx(example["expected"]["leave_one_out"])


@given(st.lists(st.tuples(st.integers(-9, 9), st.integers(-9, 9)), max_size=9))
def test_correlation_and_spread_agree_with_numpy_where_they_exist(pairs: list[tuple[int, int]]) -> None:
    xs, ys = [float(x) for x, _ in pairs], [float(y) for _, y in pairs]
    found = correlation(xs, ys)
    if len(pairs) > 2 and len(set(xs)) > 1 and len(set(ys)) > 1:
        assert found == pytest.approx(np.corrcoef(xs, ys)[0, 1])
    else:
        assert found is None
    spread = standard_deviation(xs)
    assert spread == (None if len(xs) < 2 else pytest.approx(np.std(xs, ddof=1)))
