"""Ties: tie-breaks in order, run-offs, and ties that remain."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scoring.standings import standings
from bot.rules.scoring.standings_records import Standings
from bot.rules.scoring.tie_breaks import tie_break_keys
from storage.records.plan_measures import Measure, Number
from storage.records.scores import ScoreBook
from tests.rules.books import (
    absence,
    attempt,
    count,
    counted_book,
    event,
    judges,
    plan,
    rubric,
    sheet,
    squads,
    timed,
)
from tests.rules.scoring.test_measures import GAP, MASS


def order(result: Standings) -> list[tuple[int | None, int]]:
    return [(row.rank, row.squad_id) for row in result.rows]


def with_tie_breaks(book: ScoreBook, *keys: str) -> ScoreBook:
    return book.model_copy(update={"plan": book.plan.model_copy(update={"tie_breaks": keys})})


def with_run_off(book: ScoreBook, where: str, *rounds: dict[int, int]) -> ScoreBook:
    extra = [
        attempt(squad, where, core=core, number=number, run_off=True, id=5000 + 100 * number + squad)
        for number, scores in enumerate(rounds, start=1)
        for squad, core in scores.items()
    ]
    return book.model_copy(update={"attempts": (*book.attempts, *extra)})


def test_the_plan_says_which_event_decides_a_tie() -> None:
    book = counted_book([[80, 40], [40, 80], [60, 60], [10, 10]], [1, 1])
    assert order(standings(book)) == [(1, 1), (1, 2), (1, 3), (4, 4)]
    assert order(standings(with_tie_breaks(book, "e2"))) == [(1, 2), (2, 3), (3, 1), (4, 4)]
    result = standings(with_tie_breaks(book, "e1"))
    assert order(result) == [(1, 1), (2, 3), (3, 2), (4, 4)]
    [tie] = result.ties
    assert (tie.squads, tie.rank, tie.left) == ((1, 2, 3), 1, ())
    assert tie.steps[0].values == {1: 80, 3: 60, 2: 40}


def test_a_second_tie_break_decides_only_what_the_first_left() -> None:
    book = counted_book([[50, 30, 10], [50, 10, 30], [30, 50, 10]], [1, 1, 1])
    result = standings(with_tie_breaks(book, "e1", "e3"))
    assert order(result) == [(1, 2), (2, 1), (3, 3)]
    assert [step.by for step in result.ties[0].steps] == ["e1", "e3"]


def test_the_shorter_time_wins_a_tie_break_and_not_finishing_loses_it() -> None:
    events = (event("run", count("samples")), event("go", timed("relay", scale="between", floor=90, full=60)))
    runs = [attempt(squad, "run.samples", core=50) for squad in (1, 2, 3)]
    seconds = {1: Decimal(99), 2: Decimal(95), 3: None}
    times = [attempt(squad, "go.relay", seconds=value, id=50 + squad) for squad, value in seconds.items()]
    book = ScoreBook(plan=plan(*events), squads=squads(3), attempts=(*runs, *times))
    assert order(standings(book)) == [(1, 1), (1, 2), (1, 3)]
    assert order(standings(with_tie_breaks(book, "go.relay"))) == [(1, 2), (2, 1), (3, 3)]


def test_a_criterion_decides_by_all_the_sheets_that_tell_how_harsh_a_judge_is() -> None:
    """By hand: on squad 3, which owes a sheet, judge 1 is 2 levels milder in the first criterion and harsher so in the
    second; so 2 from judge 2 is 2 better there than 2 from judge 1, and the sums tie."""
    given = {(1, 1): [2, 2], (2, 2): [2, 2], (3, 1): [3, 1], (3, 2): [1, 3], (3, 3): None}
    book = ScoreBook(
        plan=plan(event("art", rubric("patch", panel="adjusted")), tie_breaks=["art.patch.c1"]),
        squads=squads(3),
        judges=judges(1, 1, 1),
        sheets=tuple(sheet(squad, judge, "art.patch", marks) for (squad, judge), marks in given.items()),
    )
    result = standings(book)
    assert order(result) == [(1, 2), (2, 1)]
    assert result.ties[0].steps[0].values == {2: 3, 1: 1}


def test_a_criterion_decides_by_the_rule_of_its_panel() -> None:
    marks = {1: ([4, 1], [1, 4], [1, 4]), 2: ([2, 3], [2, 3], [2, 3])}
    sheets = tuple(
        sheet(squad, judge, "art.patch", row) for squad, rows in marks.items() for judge, row in enumerate(rows, 1)
    )
    by_mean = ScoreBook(
        plan=plan(event("art", rubric("patch")), tie_breaks=["art.patch.c1"]),
        squads=squads(2),
        judges=judges(2, 1, 1),
        sheets=sheets,
    )
    assert order(standings(by_mean)) == [(1, 1), (2, 2)]
    by_median = by_mean.model_copy(
        update={
            "plan": plan(event("art", rubric("patch", panel="median")), tie_breaks=["art.patch.c1"]),
            "judges": judges(1, 1, 1),
        }
    )
    assert order(standings(by_median)) == [(1, 2), (2, 1)]


@pytest.mark.parametrize("key", ["nowhere", "e1.x", "e1.m.c1", "e1.m.c1.d", ""])
def test_a_tie_break_that_names_nothing_is_refused(key: str) -> None:
    with pytest.raises(Refusal) as refused:
        standings(with_tie_breaks(counted_book([[1]], [1]), key))
    assert (refused.value.reason, refused.value.fields) == ("tie_break", {"key": key})


def test_all_keys_that_can_break_a_tie_are_known() -> None:
    made = plan(event("run", count("samples")), event("art", rubric("patch")))
    assert tie_break_keys(made) == ("run", "run.samples", "art", "art.patch", "art.patch.c1", "art.patch.c2")


def test_where_one_was_excused_the_tie_break_decides_nothing() -> None:
    book = counted_book([[50, 50], [60, 40], [50, 0]], [1, 1], absences=(absence(3, "e2", excused=True),))
    result = standings(with_tie_breaks(book, "e2", "e2.m"))
    assert order(result) == [(1, 1), (1, 2), (1, 3)]
    assert result.ties[0].steps == ()


def test_absent_loses_a_tie_break_against_whoever_was_there() -> None:
    book = counted_book([[50, 0], [50, 0]], [1, 1], absences=(absence(1, "e2"),))
    assert order(standings(with_tie_breaks(book, "e2"))) == [(1, 1), (1, 2)]
    assert order(standings(with_tie_breaks(book, "e2.m"))) == [(1, 2), (2, 1)]


def test_a_run_off_orders_only_the_tied_and_never_changes_a_total() -> None:
    book = counted_book([[50], [50], [80], [20]], [1])
    before = {row.squad_id: row.total for row in standings(book).rows}
    result = standings(with_run_off(book, "e1.m", {1: 7, 2: 9, 4: 99}))
    assert order(result) == [(1, 3), (2, 2), (3, 1), (4, 4)]
    assert {row.squad_id: row.total for row in result.rows} == before
    assert result.ties[0].steps[0].by == "run-off 1 e1.m"
    assert result.ties[0].steps[0].values == {2: 9, 1: 7}


def test_a_run_off_settles_the_last_place() -> None:
    book = counted_book([[50], [50]], [1])
    assert standings(book).straddle is not None
    settled = standings(with_run_off(book, "e1.m", {1: 7, 2: 9}))
    assert (settled.straddle, settled.placed) == (None, (2,))


def test_squads_tied_again_after_a_run_off_are_tied_still() -> None:
    book = with_run_off(counted_book([[50], [50], [50]], [1]), "e1.m", {1: 9, 2: 9, 3: 5})
    result = standings(book)
    assert order(result) == [(1, 1), (1, 2), (3, 3)]
    assert result.straddle is not None
    assert result.straddle.squads == (1, 2)
    again = standings(with_run_off(book, "e1.m", {1: 0}, {1: 3, 2: 4}))
    assert order(again)[:1] == [(1, 2)]


def test_a_second_run_off_is_for_those_whom_the_first_left_tied() -> None:
    book = with_run_off(counted_book([[50], [50], [50]], [1]), "e1.m", {1: 9, 2: 9, 3: 5}, {1: 3, 2: 4})
    assert order(standings(book)) == [(1, 2), (2, 1), (3, 3)]


def test_a_run_off_that_not_everybody_has_run_decides_nothing_yet() -> None:
    book = with_run_off(counted_book([[50], [50], [50]], [1]), "e1.m", {1: 9, 2: 4})
    assert order(standings(book)) == [(1, 1), (1, 2), (1, 3)]


def test_an_undone_run_off_decides_nothing() -> None:
    book = with_run_off(counted_book([[50], [50]], [1]), "e1.m", {1: 9, 2: 4})
    undone = tuple(
        made.model_copy(update={"undone_at": made.recorded_at}) if made.run_off else made for made in book.attempts
    )
    assert order(standings(book.model_copy(update={"attempts": undone}))) == [(1, 1), (1, 2)]


def test_the_plans_tie_breaks_come_before_any_run_off() -> None:
    book = with_tie_breaks(counted_book([[80, 40], [40, 80]], [1, 1]), "e1")
    assert order(standings(with_run_off(book, "e1.m", {1: 1, 2: 9}))) == [(1, 1), (2, 2)]


def test_a_timed_run_off_goes_to_the_shorter_time() -> None:
    only = plan(event("go", timed("relay")))
    attempts = [attempt(squad, "go.relay", seconds=Decimal(60)) for squad in (1, 2)]
    attempts += [
        attempt(squad, "go.relay", seconds=seconds, run_off=True, id=90 + squad)
        for squad, seconds in ((1, None), (2, Decimal("61.5")))
    ]
    result = standings(ScoreBook(plan=only, squads=squads(2), attempts=tuple(attempts)))
    assert order(result) == [(1, 2), (2, 1)]
    assert result.ties[0].steps[0].values == {2: Fraction(123, 2), 1: None}


def measured_book(measure: Measure, values: Sequence[object], tie_breaks: tuple[str, ...] = ()) -> ScoreBook:
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
        tied = measured_book(measure, [Decimal(4), Decimal(6)])
        assert [row.rank for row in standings(tied).rows] == [1, 1]
        broken = tied.model_copy(update={"plan": tied.plan.model_copy(update={"tie_breaks": (f"e.{measure.key}",)})})
        assert [row.squad_id for row in standings(broken).rows if row.rank == 1] == [first]
        extra = [attempt(n, f"e.{measure.key}", id=20 + n, run_off=True, amount=Decimal(n)) for n in (1, 2)]
        run_off = tied.model_copy(update={"attempts": (*tied.attempts, *extra)})
        assert [row.squad_id for row in standings(run_off).rows if row.rank == 1] == [2 if measure is MASS else 1]
