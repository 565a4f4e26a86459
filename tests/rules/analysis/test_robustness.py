"""How firm the winner is: judges and criteria left out, other scales, the gap."""

from collections.abc import Sequence
from fractions import Fraction

import numpy as np
import pytest

from bot.rules.analysis.placing_bootstrap import judge_bootstrap
from bot.rules.analysis.robustness import closeness, firmness, on_each_scale, without_each_criterion, without_each_judge
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.books import absence, count, counted_book, event, judges, plan, rubric, sheet, squads
from tests.rules.reference import reference
from tests.rules.scoring.test_places_on_team import grouped_book


def judged_book(table: Sequence[Sequence[int | None]], **changes: object) -> ScoreBook:
    """One criterion: a row for each squad, a column for each judge; None was not on the panel."""
    criteria = tuple(row.model_copy(update={"levels": ("seen",) * 40}) for row in rubric(weights=[1]).criteria)
    return ScoreBook(
        plan=plan(event("art", rubric("patch", criteria=criteria, **changes))),  # type: ignore[arg-type]
        squads=squads(len(table)),
        judges=judges(*[1] * len(table[0])),
        sheets=tuple(
            sheet(squad, judge, "art.patch", [mark])
            for squad, row in enumerate(table, 1)
            for judge, mark in enumerate(row, 1)
            if mark is not None
        ),
    )


def table_of_c2() -> list[list[int | None]]:
    """Reference C2: six squads, four judges, every pair of judges sees one squad."""
    table: list[list[int | None]] = [[None] * 4 for _ in range(6)]
    for squad, judge, mark in reference("C2")["input"]["obs"]:
        table[int(squad[1:]) - 1][int(judge[1:]) - 1] = mark
    return table


# Trials


def test_leaving_out_each_judge_gives_the_worked_example() -> None:
    """Reference D2 (own): squad 3 wins; without judge 0 squad 1 does, without judge 2 squad 0."""
    example = reference("D2")
    book = judged_book(example["input"]["table"])
    result = standings(book)
    assert [squad - 1 for squad in result.placed] == example["expected"]["winners"]
    trials = list(without_each_judge(book, result))
    assert [[squad - 1 for squad in trial.placed] for trial in trials] == example["expected"]["leave_one_judge_out"]
    assert [trial.changed for trial in trials] == [True, False, True, False]
    assert [trial.name for trial in trials] == ["1", "2", "3", "4"]


def test_leaving_out_each_judge_of_an_incomplete_panel_gives_the_worked_example() -> None:
    """Reference C5 (own): adjusted, only without judge 4 does S4 pass S5."""
    expected = reference("C5")["expected"]["drop"]
    book = judged_book(table_of_c2(), panel="adjusted")
    result = standings(book)
    assert result.placed == (5,)
    for trial in without_each_judge(book, result):
        assert f"S{trial.placed[0]}" == expected[f"J{trial.name}"]["order_adjusted"][0]
        assert trial.changed == (trial.name == "4")
        assert trial.lost == ()


def test_a_squad_that_loses_its_only_judge_is_named_and_the_answer_left_open() -> None:
    book = judged_book([[9, None], [5, 5], [4, 6]])
    first, second = without_each_judge(book, standings(book))
    assert (first.lost, first.changed) == ((1,), None)
    assert (second.lost, second.changed) == ((), False)


def test_without_the_judge_who_links_them_squads_cannot_be_compared() -> None:
    book = judged_book([[9, None, 8], [5, 5, None], [None, 6, None]], panel="adjusted")
    trial = list(without_each_judge(book, standings(book)))[1]
    assert (trial.lost, trial.changed) == ((3,), False)
    bridge = judged_book([[9, None], [5, 5], [None, 6]], panel="adjusted")
    assert [each.changed for each in without_each_judge(bridge, standings(bridge))] == [None, False]


def test_the_winner_on_every_other_scale_stands_beside_the_official_one() -> None:
    """Reference B6 (own): with the maxima of the plan all at 200, five scales, several winners."""
    book = counted_book(reference("B6")["input"]["raw"], [1, 1, 1])
    trials = list(on_each_scale(book, standings(book)))
    assert [trial.name for trial in trials] == ["best", "between", "rank", "standard"]
    expected = reference("B6")["expected"]["winners"]
    rules = ["percent_of_best", "min_max", "rank_points_mean", "z"]
    assert [[squad - 1 for squad in trial.placed] for trial in trials] == [expected[rule] for rule in rules]


def test_a_scale_that_the_plan_has_no_numbers_for_says_so() -> None:
    book = counted_book([[5], [4]], [1])
    bare = plan(event("e1", count("m", maximum=None, scale="best")))
    changed = book.model_copy(update={"plan": bare})
    [maximum, *_] = on_each_scale(changed, standings(changed))
    assert (maximum.name, maximum.refused, maximum.changed) == ("maximum", "scale_maximum", None)


def test_leaving_out_a_criterion_that_decided_shows_it() -> None:
    marks = {1: [5, 1, 1], 2: [1, 2, 3]}
    book = ScoreBook(
        plan=plan(event("art", rubric("patch", weights=[1, 1, 1], levels=5))),
        squads=squads(2),
        judges=judges(1),
        sheets=tuple(sheet(squad, 1, "art.patch", row) for squad, row in marks.items()),
    )
    trials = list(without_each_criterion(book, standings(book)))
    assert [(trial.name[-2:], trial.changed, trial.tied) for trial in trials] == [
        ("c1", True, ()),
        ("c2", False, ()),
        ("c3", False, ()),
    ]


# The gap


def test_the_gap_stands_beside_what_judges_differ_by() -> None:
    """Reference C2 (own); the standard error of the difference is that of statsmodels on the same sheets."""
    book = judged_book(table_of_c2(), panel="adjusted")
    found = closeness(book.plan, standings(book))
    assert found is not None
    assert (found.ahead, found.behind) == (5, 4)
    assert found.gap == Fraction(1, 2) * Fraction(100, 40)
    from statsmodels.regression.linear_model import OLS

    seen = [(squad, judge, mark) for squad, row in enumerate(table_of_c2()) for judge, mark in enumerate(row) if mark]
    design = np.zeros((len(seen), 9))
    for line, (squad, judge, _) in enumerate(seen):
        design[line, squad] = 1
        if judge:
            design[line, 5 + judge] = 1
    contrast = np.zeros(9)
    contrast[4], contrast[3] = 1, -1
    model = OLS(np.array([float(mark) for *_, mark in seen]), design).fit()
    assert found.error == pytest.approx(float(contrast @ model.cov_params() @ contrast) ** 0.5 * 100 / 40)
    assert found.close is (float(found.gap) < float(found.error or 0))


@pytest.mark.parametrize(
    "changes", [{"scale": "best"}, {"scale": "standard"}, {"scale": "between", "floor": 1, "full": 21}]
)
def test_the_error_follows_the_scale(changes: dict[str, object]) -> None:
    """On every linear scale gap and error grow alike, so their ratio stays."""
    table = [[9, 12, 7], [8, 8, 9], [3, 5, 4], [6, 2, 5]]
    plain, other = judged_book(table), judged_book(table, **changes)
    one, two = closeness(plain.plan, standings(plain)), closeness(other.plan, standings(other))
    assert one is not None
    assert two is not None
    assert one.error is not None
    assert two.error is not None
    assert float(one.gap) / one.error == pytest.approx(float(two.gap) / two.error)


def test_on_a_scale_of_ranks_or_without_judges_the_error_cannot_be_told() -> None:
    ranked = judged_book([[9, 12], [8, 8], [3, 5]], scale="rank")
    found = closeness(ranked.plan, standings(ranked))
    assert found is not None
    assert (found.error, found.close) == (None, None)
    counted = counted_book([[5], [4]], [1])
    bare = closeness(counted.plan, standings(counted))
    assert bare is not None
    assert bare.close is None


def test_sheets_of_squads_that_were_all_absent_tell_no_error() -> None:
    book = judged_book([[9, 12], [8, 8]])
    book = book.model_copy(update={"absences": (absence(1, "art"), absence(2, "art"))})
    found = closeness(book.plan, standings(book))
    assert found is not None
    assert found.gap == 0
    assert found.error is None


def test_without_a_squad_behind_there_is_no_gap() -> None:
    book = counted_book([[5]], [1])
    assert closeness(book.plan, standings(book)) is None


def test_an_absent_squad_leaves_the_error_open() -> None:
    book = judged_book([[9, 12], [8, 8], [3, 5]])
    away = book.model_copy(update={"absences": (absence(2, "art"), absence(3, "art"))})
    found = closeness(away.plan, standings(away))
    assert found is not None
    assert found.error is None


def test_everything_together_answers_for_a_whole_book() -> None:
    book = judged_book(reference("D2")["input"]["table"])
    found = firmness(book, standings(book))
    assert [trial.name for trial in found.trials if trial.changed and trial.what == "judge"] == ["1", "3"]
    assert found.weights is None
    assert found.hold is not None
    assert found.hold.exact == 1
    assert found.effective == {"art": Fraction(1)}
    assert found.closeness is not None


@pytest.mark.parametrize("table", [[], [[5]]])
def test_nothing_breaks_on_a_book_with_hardly_anything_in_it(table: list[list[int]]) -> None:
    book = counted_book(table, [1])
    found = firmness(book, standings(book))
    assert found.weights is None
    assert found.effective is None
    assert not judge_bootstrap(book).share


def test_what_looks_at_the_order_alone_is_not_said_where_it_does_not_decide() -> None:
    found = grouped_book([90, 80, 70, 60], "OOPP")
    result = standings(found)
    firm = firmness(found, result)
    assert not result.plain and (firm.weights, firm.hold, firm.closeness) == (None, None, None)
    usual = found.plan.model_copy(update={"place_groups": ()})
    assert standings(found.model_copy(update={"plan": usual})).plain
