"""The quick answers beside the standings of the changed book, on books of every kind."""

from decimal import Decimal

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from bot.rules.analysis.robustness import firmness, on_each_scale, without_each_criterion, without_each_judge
from bot.rules.analysis.single_changes import SingleChanges
from bot.rules.scoring.standings import standings
from storage.records.plan import PlaceGroup
from storage.records.scores import ScoreBook
from tests.rules.books import absence, attempt, count, event, judges, plan, rubric, sheet, squads, timed

SCALES = ("maximum", "best", "rank", "standard")


@st.composite
def whole_books(draw: st.DrawFn) -> ScoreBook:
    """Counts, times and sheets, panels complete or not, absences, places (of all, or by sections; from a minimum on),
    tie-breaks, weights of judges."""
    width, height = draw(st.integers(1, 6)), draw(st.integers(1, 6))
    rule, scale = draw(st.sampled_from(["mean", "median", "trimmed", "adjusted"])), draw(st.sampled_from(SCALES))
    art = rubric("patch", weights=["1", "2.5"], levels=4, panel=rule, scale=scale)
    run = event("run", count("m", scale=draw(st.sampled_from(SCALES))), timed("t", scale="best"), weight=2)
    events = [event("art", art, count("n", weight=2), weight=draw(st.integers(1, 3))), run]
    level, some = st.integers(1, 4), draw(st.integers(1, 3))
    attempts, sheets = [], []
    for squad in range(1, height + 1):
        attempts.append(attempt(squad, "run.m", core=draw(st.integers(0, 4)), id=10 * squad))
        attempts.append(attempt(squad, "art.n", core=draw(st.integers(0, 4)), id=10 * squad + 1))
        seconds = draw(st.sampled_from([None, 50, 60, 70]))
        attempts.append(attempt(squad, "run.t", seconds=seconds, id=10 * squad + 2))
        sheets += [
            sheet(squad, judge, "art.patch", [draw(level), draw(level)])
            for judge in range(1, width + 1)
            if some == 1 or draw(st.integers(0, 3))
        ]
    away = tuple(
        absence(squad, "art", draw(st.booleans())) for squad in draw(st.sets(st.integers(1, height), max_size=1))
    )
    breaks = draw(st.sampled_from([(), ("art.patch.c1",), ("run", "art")]))
    rules = plan(*events, places=draw(st.integers(1, 3)), tie_breaks=breaks)
    least = draw(st.sampled_from([None, None, "40", "62.5"]))
    rules = rules.model_copy(update={"qualify": None if least is None else Decimal(least)})
    entered = squads(height)
    if draw(st.booleans()):
        sections = ("7A", "7B", "7C")
        entered = tuple(one.model_copy(update={"section": draw(st.sampled_from(sections))}) for one in entered)
        groups = (PlaceGroup(sections=("7A", "7C"), places=1), PlaceGroup(sections=("7B",), places=2))
        rules = rules.model_copy(update={"sections": sections, "place_groups": groups, "places": 3})
    return ScoreBook(
        plan=rules,
        squads=entered,
        judges=judges(*draw(st.lists(st.sampled_from([1, 1, 2, "0.5", 0]), min_size=width, max_size=width))),
        attempts=tuple(attempts),
        sheets=tuple(sheets),
        absences=away,
    )


@settings(max_examples=150, deadline=None, phases=[Phase.generate])
@given(whole_books())
def test_the_quick_answers_are_those_of_the_changed_books(book: ScoreBook) -> None:
    result = standings(book)
    slow = (*without_each_judge(book, result), *without_each_criterion(book, result), *on_each_scale(book, result))
    assert firmness(book, result).trials == slow


def test_a_judge_whose_absence_makes_the_panel_whole_changes_the_squads_that_judge_never_saw() -> None:
    """Judge 2 saw squads 1 and 3 only: without that judge all are plain means, squad 2's too."""
    marks = {(1, 1): 1, (1, 2): 1, (2, 1): 4, (3, 1): 1, (3, 2): 1, (1, 3): 2, (2, 3): 2, (3, 3): 4}
    art = rubric("patch", weights=["1"], levels=4, panel="adjusted", scale="maximum")
    book = ScoreBook(
        plan=plan(event("art", art), places=1),
        squads=squads(3),
        judges=judges("0.5", 2, "0.5"),
        attempts=(),
        sheets=tuple(sheet(squad, judge, "art.patch", [mark]) for (squad, judge), mark in marks.items()),
    )
    result = standings(book)
    quick = SingleChanges(book, result)
    [slow] = [trial for trial in without_each_judge(book, result) if trial.name == "2"]
    assert result.places and slow.placed == quick.without_judge(2) == (2,)


def test_places_by_sections_stay_with_their_sections_whoever_is_left_out() -> None:
    """7A has the two best squads; each section has one place, so that squad 3 of 7B holds one, too."""
    art = rubric("patch", weights=["1", "1"], levels=4, scale="maximum")
    rules = plan(event("art", art), places=2)
    groups = (PlaceGroup(sections=("7A",), places=1), PlaceGroup(sections=("7B",), places=1))
    marks = {1: [[4, 4], [4, 3]], 2: [[3, 3], [3, 2]], 3: [[1, 2], [2, 1]]}
    book = ScoreBook(
        plan=rules.model_copy(update={"sections": ("7A", "7B"), "place_groups": groups}),
        squads=tuple(one.model_copy(update={"section": "7B"}) if one.id == 3 else one for one in squads(3)),
        judges=judges(1, 1),
        sheets=tuple(
            sheet(squad, judge, "art.patch", row) for squad, each in marks.items() for judge, row in enumerate(each, 1)
        ),
    )
    result = standings(book)
    assert result.placed == (1, 3)
    assert [trial.placed for trial in firmness(book, result).trials if trial.what != "scale"] == [(1, 3)] * 4
    assert not any(trial.changed for trial in firmness(book, result).trials)


def test_a_whole_try_out_is_answered_quickly_throughout() -> None:
    from tests.rules.tryouts import random_tryout

    for panel in ("mean", "adjusted"):
        book = random_tryout(panel=panel)
        quick = SingleChanges(book, standings(book))
        assert all(quick.without_judge(judge.id) is not None for judge in book.judges)
        assert quick.without_criterion("art.patch", "c1") is not None
        assert quick.on_scale("rank") is not None
