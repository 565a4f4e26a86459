"""What feedback picks out of a squad's own marks."""

from fractions import Fraction

from bot.rules.results.feedback import draft
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.books import attempt, count, event, judges, plan, rubric, sheet, squads


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
