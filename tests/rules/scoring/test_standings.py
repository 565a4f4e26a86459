"""Whole standings, from a score book to totals, ranks and what is missing."""

from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scoring.standings import standings
from bot.rules.scoring.standings_records import Standings
from storage.records.scores import ScoreBook
from tests.rules.books import (
    NOW,
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
from tests.rules.reference import reference
from tests.rules.tryouts import tryout_h1

ONE_EVENT = plan(event("run", count("samples")), event("art", rubric("patch")))


def order(result: Standings) -> list[tuple[int | None, int]]:
    return [(row.rank, row.squad_id) for row in result.rows]


def judged_book(tables: dict[int, dict[int, list[int] | None]], *weights: object, panel: str = "mean") -> ScoreBook:
    """One judged event: squad to judge to marks (None: still open); judge weights in order."""
    only = plan(event("art", rubric("patch", panel=panel)))
    sheets = [sheet(squad, judge, "art.patch", marks) for squad, row in tables.items() for judge, marks in row.items()]
    return ScoreBook(plan=only, squads=squads(len(tables)), judges=judges(*weights), sheets=tuple(sheets))


@pytest.mark.parametrize(("panel", "rule"), [("mean", "raw"), ("adjusted", "adjusted")])
def test_a_whole_small_tryout_gives_the_worked_example(panel: str, rule: str) -> None:
    """Reference H1 (own): run of the best, judged piece by two of three judges, composite challenge."""
    book, expected = tryout_h1(panel)
    result = standings(book)
    names = {1: "S01", 2: "S02", 3: "S03"}
    assert {names[row.squad_id]: str(row.total) for row in result.rows} == expected[f"total_{rule}"]
    assert [names[row.squad_id] for row in result.rows] == expected[f"order_{rule}"]
    for row in result.rows:
        run, project, challenge = row.events
        assert run.measures[0].value == expected["event_a_points"][names[row.squad_id]]
        assert project.points == Fraction(expected[f"event_b_{rule}"][names[row.squad_id]])
        assert challenge.points == Fraction(expected["event_c"][names[row.squad_id]])
        assert sum(score.contribution or 0 for score in row.events) == row.total
    if panel == "adjusted":
        leniency = result.fits["b.project"].effects
        points = {f"J{judge}": effect * Fraction(100, 40) for judge, effect in leniency.items()}
        assert {judge: str(effect) for judge, effect in points.items()} == expected["judge_leniency"]


def test_totals_that_are_equal_tie_although_floats_would_part_them() -> None:
    """Reference B2 (own): exact ties with the weights 2/5, 7/20, 1/4."""
    example = reference("B2")
    weights = [Fraction(weight) * 100 for weight in example["input"]["weights"]]
    for pair, total in zip(example["input"]["pairs"], example["expected"]["totals"], strict=True):
        result = standings(counted_book(pair, weights))
        assert order(result) == [(1, 1), (1, 2)]
        assert {row.total for row in result.rows} == {Fraction(total)}
        assert result.straddle is not None
        assert result.straddle.squads == (1, 2)
        assert result.placed == ()


def test_an_open_sheet_is_named_and_never_a_zero() -> None:
    result = standings(judged_book({1: {1: [4, 4], 2: None}, 2: {1: [1, 1], 2: [1, 2]}}, 1, 1))
    assert order(result) == [(1, 2)]
    [(squad, gap)] = result.gaps
    assert (squad, gap.kind, gap.event, gap.measure, gap.judge_number) == (1, "open_sheet", "art", "patch", 2)
    assert result.row(1).total is None
    assert result.row(1).events[0].state == "incomplete"
    assert not result.complete


def test_a_sheet_without_one_of_its_marks_is_open_still() -> None:
    result = standings(judged_book({1: {1: [4]}}, 1))
    assert [gap.kind for _, gap in result.gaps] == ["open_sheet"]


def test_a_sheet_that_is_marked_and_not_handed_in_does_not_count() -> None:
    book = judged_book({1: {1: [4, 4], 2: [1, 1]}, 2: {1: [2, 2]}}, 1, 1)
    started = tuple(
        each.model_copy(update={"state": "started"}) if each.judge_id == 2 else each for each in book.sheets
    )
    result = standings(book.model_copy(update={"sheets": started}))
    assert [(squad, gap.kind, gap.judge_number) for squad, gap in result.gaps] == [(1, "open_sheet", 2)]
    assert [seen.judge_id for seen in result.row(1).events[0].measures[0].sheets] == [1]


def test_a_squad_without_any_counted_sheet_is_named() -> None:
    result = standings(judged_book({1: {1: [4, 4]}, 2: {}, 3: {2: [4, 4]}}, 1, 0))
    assert [(squad, gap.kind) for squad, gap in result.gaps] == [(2, "no_sheet"), (3, "no_sheet")]


def test_a_judge_who_does_not_count_is_shown_and_not_counted() -> None:
    result = standings(judged_book({1: {1: [2, 2], 2: [4, 4]}, 2: {1: [2, 3], 2: None}}, 1, 0))
    assert order(result) == [(1, 2), (2, 1)]
    shown = result.row(1).events[0].measures[0].sheets
    assert [(seen.judge_id, seen.shown_only, int(seen.value)) for seen in shown] == [(1, False, 4), (2, True, 8)]
    assert result.row(1).events[0].measures[0].value == 4


def test_a_recused_sheet_and_a_removed_judge_are_neither_counted_nor_due() -> None:
    book = judged_book({1: {1: [2, 2], 2: [4, 4], 3: [4, 4]}}, 1, 1, 1)
    recused = tuple(
        each.model_copy(update={"state": "recused"}) if each.judge_id == 2 else each for each in book.sheets
    )
    panel = (*book.judges[:2], book.judges[2].model_copy(update={"removed": True}))
    result = standings(book.model_copy(update={"sheets": recused, "judges": panel}))
    assert result.row(1).events[0].measures[0].value == 4
    assert result.complete


def test_attempts_that_are_missing_are_named() -> None:
    only = plan(event("run", count("samples", keep="sum", attempts=2)))
    made = [(1, 1, 5), (3, 1, 5), (3, 2, 1)]
    attempts = tuple(attempt(squad, "run.samples", number=number, core=core) for squad, number, core in made)
    result = standings(ScoreBook(plan=only, squads=squads(3), attempts=attempts))
    assert [(squad, gap.kind, gap.have, gap.need) for squad, gap in result.gaps] == [
        (1, "too_few_attempts", 1, 2),
        (2, "no_attempt", 0, 2),
    ]
    assert order(result) == [(1, 3)]


def test_undone_attempts_do_not_count_and_neither_do_those_beyond_the_plan() -> None:
    only = plan(event("run", count("samples", attempts=2)))
    attempts = [attempt(1, "run.samples", core=core, number=n) for n, core in enumerate((90, 5, 6, 99), start=1)]
    attempts[0] = attempts[0].model_copy(update={"undone_at": NOW})
    result = standings(ScoreBook(plan=only, squads=squads(1), attempts=tuple(attempts)))
    assert result.rows[0].total == 6
    assert [made.number for made in result.rows[0].events[0].measures[0].attempts] == [2, 3]


def test_absent_counts_zero_and_excused_is_the_mean_over_the_rest() -> None:
    table = [[60, 40], [60, 40], [60, 40]]
    book = counted_book(table, [3, 1], absences=(absence(1, "e1"), absence(2, "e1", excused=True)))
    result = standings(book)
    assert {row.squad_id: row.total for row in result.rows} == {1: 10, 2: 40, 3: 55}
    assert [result.row(squad).events[0].state for squad in (1, 2, 3)] == ["absent", "excused", "scored"]
    assert [result.row(squad).events[1].share for squad in (1, 2, 3)] == [Fraction(1, 4), 1, Fraction(1, 4)]


def test_a_squad_excused_from_everything_cannot_be_ranked() -> None:
    book = counted_book([[60], [40]], [1], absences=(absence(1, "e1", excused=True),))
    assert [(squad, gap.kind) for squad, gap in standings(book).gaps] == [(1, "all_excused")]


def test_who_does_not_finish_scores_zero_there_and_is_ranked() -> None:
    only = plan(event("go", timed("relay", scale="best")))
    attempts = (attempt(1, "go.relay", seconds=None), attempt(2, "go.relay", seconds=Decimal(90)))
    result = standings(ScoreBook(plan=only, squads=squads(2), attempts=attempts))
    assert {row.squad_id: row.total for row in result.rows} == {2: 100, 1: 0}
    assert result.row(1).events[0].measures[0].value is None
    assert result.row(1).events[0].measures[0].scaled == 0


def test_a_squad_that_withdrew_takes_no_part() -> None:
    book = counted_book([[90], [40], [30]], [1])
    gone = (book.squads[0].model_copy(update={"withdrawn": True}), *book.squads[1:])
    changed = book.model_copy(update={"squads": gone})
    assert order(standings(changed)) == [(1, 2), (2, 3)]


def test_an_empty_book_has_empty_standings() -> None:
    result = standings(ScoreBook(plan=ONE_EVENT, squads=()))
    assert (result.rows, result.unranked, result.placed, result.straddle) == ((), (), (), None)


def test_a_tryout_before_its_first_score_names_all_that_is_missing() -> None:
    result = standings(ScoreBook(plan=ONE_EVENT, squads=squads(2)))
    assert [(squad, gap.kind) for squad, gap in result.gaps] == [
        (squad, kind) for squad in (1, 2) for kind in ("no_attempt", "no_sheet")
    ]


def test_one_squad_alone_wins() -> None:
    result = standings(counted_book([[0]], [1]))
    assert (order(result), result.placed) == ([(1, 1)], (1,))


def test_only_the_squads_that_were_judged_apart_are_left_out_and_named_together() -> None:
    tables: dict[int, dict[int, list[int] | None]] = {
        1: {1: [4, 4]},
        2: {1: [3, 3]},
        3: {2: [2, 2]},
        4: {1: [1, 1]},
        5: {2: [3, 2]},
        6: {3: [3, 2]},
    }
    result = standings(judged_book(tables, 1, 1, 1, panel="adjusted"))
    assert order(result) == [(1, 1), (2, 2), (3, 4)]
    assert [(squad, gap.kind, gap.linked) for squad, gap in result.gaps] == [
        (3, "unconnected", (3, 5)),
        (5, "unconnected", (3, 5)),
        (6, "unconnected", (6,)),
    ]
    assert [part.squads for part in result.fits["art.patch"].parts] == [(1, 2, 4), (3, 5), (6,)]


def test_where_no_part_of_the_panel_is_the_largest_nobody_can_be_compared() -> None:
    tables: dict[int, dict[int, list[int] | None]] = {1: {1: [4, 4]}, 2: {1: [3, 3]}, 3: {2: [2, 2]}, 4: {2: [1, 1]}}
    result = standings(judged_book(tables, 1, 1, panel="adjusted"))
    assert [(squad, gap.linked) for squad, gap in result.gaps] == [(1, (1, 2)), (2, (1, 2)), (3, (3, 4)), (4, (3, 4))]


def test_sheets_of_a_squad_that_is_not_complete_do_not_part_the_others() -> None:
    tables: dict[int, dict[int, list[int] | None]] = {1: {1: [4, 4]}, 2: {1: [3, 3]}, 3: {2: [2, 2], 1: None}}
    result = standings(judged_book(tables, 1, 1, panel="adjusted"))
    assert order(result) == [(1, 1), (2, 2)]
    assert [gap.kind for _, gap in result.gaps] == ["open_sheet"]


@pytest.mark.parametrize(
    ("reason", "measure"),
    [("scale_maximum", count("m", maximum=None)), ("scale_ends", count("m", scale="between", floor=Decimal(3)))],
)
def test_a_scale_that_lacks_its_numbers_is_refused(reason: str, measure: Any) -> None:
    book = ScoreBook(plan=plan(event("e", measure)), squads=squads(1), attempts=(attempt(1, "e.m", core=1),))
    with pytest.raises(Refusal) as refused:
        standings(book)
    assert (refused.value.reason, refused.value.fields["measure"]) == (reason, "m")


def test_the_standings_ignore_what_belongs_to_no_event_of_the_plan() -> None:
    book = counted_book([[9], [5]], [1])
    stray = attempt(1, "old.m", core=3, id=77, recorded_at=datetime(2025, 1, 1, tzinfo=NOW.tzinfo))
    assert standings(book.model_copy(update={"attempts": (*book.attempts, stray)})) == standings(book)


@pytest.mark.parametrize("over_maximum", ["cap", "count"])
def test_a_panel_evened_out_below_nothing_is_worth_nothing(over_maximum: str) -> None:
    """Additive model by hand: judge 1 gives 2 above, judge 2 gives 2 below the average judge, so squad 1 has 1 - 2."""
    art = rubric("patch", weights=[1], levels=5, panel="adjusted", over_maximum=over_maximum)
    book = ScoreBook(
        plan=plan(event("art", art)),
        squads=squads(2),
        judges=judges(1, 1),
        sheets=(sheet(1, 1, "art.patch", [1]), sheet(2, 1, "art.patch", [5]), sheet(2, 2, "art.patch", [1])),
    )
    found = {row.squad_id: row.events[0].measures[0] for row in standings(book).rows}
    assert [found[squad].value for squad in (1, 2)] == [-1, 3]
    assert [found[squad].scaled for squad in (1, 2)] == [0, Fraction(3, 5)]
