"""What must hold of every score book, whatever is in it."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bot.rules.analysis.agreement import agreements
from bot.rules.analysis.judge_profiles import judge_views, mark_gaps
from bot.rules.analysis.robustness import firmness
from bot.rules.scoring.scales import SCALES
from bot.rules.scoring.standings import standings
from bot.rules.scoring.standings_records import Standings
from storage.records.score_sheets import Sheet
from storage.records.scores import ScoreBook
from tests.rules.books import absence, attempt, count, event, judges, plan, rubric, sheet, squads, timed

PANELS = ("mean", "median", "trimmed", "adjusted")
LEVELS = 6


@st.composite
def books(draw: st.DrawFn, scales: Sequence[str] = SCALES, panels: Sequence[str] = PANELS) -> ScoreBook:
    """A counted run, a judged piece and a timed relay; some things missing, late, absent or excused."""
    many, panel_size = draw(st.integers(1, 5)), draw(st.integers(1, 6))
    scale = st.sampled_from(scales)
    events = (
        event("run", count("samples", scale=draw(scale), floor=2, full=9, attempts=2), weight=draw(st.integers(1, 3))),
        event(
            "art",
            rubric("patch", levels=LEVELS, panel=draw(st.sampled_from(panels)), scale=draw(scale), floor=2, full=9),
            weight=draw(st.integers(1, 3)),
        ),
        event("go", timed("relay", scale=draw(scale), floor=90, full=60), weight=draw(st.integers(1, 3))),
    )
    attempts, sheets, absences = [], [], []
    for squad in range(1, many + 1):
        for number in range(1, 1 + draw(st.integers(0, 2) if draw(st.booleans()) else st.just(2))):
            core = draw(st.integers(0, 12))
            attempts.append(attempt(squad, "run.samples", core=core, number=number, id=10 * squad + number))
        seconds = draw(st.one_of(st.none(), st.integers(50, 100).map(Decimal)))
        attempts.append(attempt(squad, "go.relay", seconds=seconds, id=10 * squad + 5))
        for judge in draw(st.sets(st.integers(1, panel_size), min_size=1)):
            marks = [draw(st.integers(1, LEVELS)), draw(st.integers(1, LEVELS))]
            sheets.append(sheet(squad, judge, "art.patch", marks))
        if draw(st.integers(0, 9)) == 0:
            absences.append(absence(squad, draw(st.sampled_from(["run", "art", "go"])), draw(st.booleans())))
    return ScoreBook(
        plan=plan(
            *events,
            places=draw(st.integers(1, 2)),
            tie_breaks=draw(st.permutations(["art.patch.c1", "run", "go.relay"])),
        ),
        squads=squads(many),
        judges=judges(*draw(st.lists(st.sampled_from([0, 1, 1, 1, 2]), min_size=panel_size, max_size=panel_size))),
        attempts=tuple(attempts),
        sheets=tuple(sheets),
        absences=tuple(absences),
    )


def ranks(result: Standings) -> dict[int, int | None]:
    return {row.squad_id: row.rank for row in result.rows}


def without_tie_breaks(book: ScoreBook) -> ScoreBook:
    return book.model_copy(update={"plan": book.plan.model_copy(update={"tie_breaks": ()})})


@given(books(), st.randoms(use_true_random=False))
def test_the_order_of_squads_judges_and_everything_else_does_not_matter(book: ScoreBook, chance: Any) -> None:
    shuffled = {}
    for name in ("squads", "judges", "attempts", "sheets", "absences"):
        entries = list(getattr(book, name))
        chance.shuffle(entries)
        shuffled[name] = tuple(entries)
    again = book.model_copy(update=shuffled)
    one, other = standings(book), standings(again)
    assert one == other
    assert firmness(book, one) == firmness(again, other)
    assert agreements(one, resamples=20) == agreements(other, resamples=20)
    assert judge_views(one) == judge_views(other)


@given(books())
def test_every_squad_is_ranked_or_named_with_what_it_lacks(book: ScoreBook) -> None:
    result = standings(book)
    assert sorted(row.squad_id for row in (*result.rows, *result.unranked)) == [squad.id for squad in book.squads]
    for row in result.rows:
        assert row.gaps == ()
        assert sum(event.contribution or 0 for event in row.events) == row.total
        assert sum(event.share for event in row.events) == 1
    for row in result.unranked:
        assert row.gaps
        assert row.total is None


@given(books())
def test_ranks_are_competition_ranks_of_the_totals(book: ScoreBook) -> None:
    result = standings(without_tie_breaks(book))
    totals = {row.squad_id: row.total or Fraction(0) for row in result.rows}
    for row in result.rows:
        assert row.rank == 1 + sum(total > totals[row.squad_id] for total in totals.values())
    assert len(result.placed) <= book.plan.places
    if result.rows and result.straddle is None:
        assert len(result.placed) == min(book.plan.places, len(result.rows))


@given(books())
def test_tie_breaks_only_separate_squads_with_exactly_equal_totals(book: ScoreBook) -> None:
    plain, broken = standings(without_tie_breaks(book)), standings(book)
    for one in broken.rows:
        for other in broken.rows:
            if plain.row(one.squad_id).total != plain.row(other.squad_id).total:
                before = (plain.row(one.squad_id).rank or 0) < (plain.row(other.squad_id).rank or 0)
                assert before == ((one.rank or 0) < (other.rank or 0))


@given(books(scales=("maximum", "best", "between", "rank")), st.data())
def test_a_better_raw_value_never_lowers_a_rank(book: ScoreBook, data: st.DataObject) -> None:
    """(Standard scores are left out: a better value widens the spread, which can cost more elsewhere than it gains.)"""
    book = without_tie_breaks(book)
    before = standings(book)
    assume(before.rows)
    squad = data.draw(st.sampled_from([row.squad_id for row in before.rows]))
    made = data.draw(st.sampled_from([each for each in book.attempts if each.squad_id == squad]))
    if made.measure == "samples":
        better = made.model_copy(update={"items": {"core": made.items["core"] + data.draw(st.integers(1, 9))}})
    else:
        better = made.model_copy(update={"seconds": (made.seconds or Decimal(101)) - data.draw(st.integers(1, 40))})
    attempts = tuple(better if each is made else each for each in book.attempts)
    after = standings(book.model_copy(update={"attempts": attempts}))
    assert (ranks(after)[squad] or 0) <= (ranks(before)[squad] or 0)


@given(books(scales=("maximum", "best", "between", "rank")), st.data())
def test_a_better_mark_never_lowers_a_rank(book: ScoreBook, data: st.DataObject) -> None:
    """For every panel rule; the additive fit gives each sheet of a squad a share of at least 0 in every lead of it."""
    book = without_tie_breaks(book)
    before = standings(book)
    seen = [each for each in book.sheets if each.squad_id in ranks(before)]
    assume(seen)
    chosen = data.draw(st.sampled_from(seen))
    better = chosen.model_copy(update={"marks": {**chosen.marks, "c1": LEVELS}})
    sheets = tuple(better if each is chosen else each for each in book.sheets)
    after = standings(book.model_copy(update={"sheets": sheets}))
    assert (ranks(after)[chosen.squad_id] or 0) <= (ranks(before)[chosen.squad_id] or 0)


@given(books(scales=("maximum",), panels=("adjusted",)), st.integers(1, 6), st.integers(1, 30))
def test_a_judge_who_gives_everybody_more_changes_no_adjusted_rank(book: ScoreBook, judge: int, more: int) -> None:
    """Levels are widened first, so that there is room; no squad may be absent or excused, for all to gain alike.

    Nothing is below 0: where a squad is evened out to 0 or less, what it lacks more than another is not told apart.
    """
    [run, art, go] = book.plan.events
    [patch] = art.measures
    wide = tuple(row.model_copy(update={"levels": ("seen",) * 40}) for row in getattr(patch, "criteria", ()))
    panel = patch.model_copy(update={"criteria": wide})
    events = (run, art.model_copy(update={"measures": (panel,)}), go)
    wider = without_tie_breaks(
        book.model_copy(update={"plan": book.plan.model_copy(update={"events": events}), "absences": ()})
    )

    def raised(each: Sheet) -> Sheet:
        if each.judge_id != judge:
            return each
        return each.model_copy(update={"marks": {key: level + more for key, level in each.marks.items()}})

    lenient = wider.model_copy(update={"sheets": tuple(map(raised, wider.sheets))})
    before, after = standings(wider), standings(lenient)
    points = [
        score.points for found in (before, after) for row in found.rows for score in row.events if score.key == "art"
    ]
    if all(points):
        assert ranks(before) == ranks(after)


@given(books(scales=("best",)), st.integers(2, 50))
def test_scaling_all_points_of_a_count_changes_no_rank_of_the_best(book: ScoreBook, factor: int) -> None:
    [run, art, go] = book.plan.events
    [samples] = run.measures
    items = tuple(item.model_copy(update={"points": item.points * factor}) for item in getattr(samples, "items", ()))
    dear = run.model_copy(update={"measures": (samples.model_copy(update={"items": items}),)})
    dearer = book.model_copy(update={"plan": book.plan.model_copy(update={"events": (dear, art, go)})})
    one, other = standings(book), standings(dearer)
    assert ranks(one) == ranks(other)
    assert [row.total for row in one.rows] == [row.total for row in other.rows]


@given(books())
def test_two_squads_with_the_same_records_tie_exactly(book: ScoreBook) -> None:
    """A twin of the first squad, by the same judges; its twin stands beside it whatever the scales."""
    twin = len(book.squads) + 1
    doubled = book.model_copy(
        update={
            "squads": squads(twin),
            "attempts": (
                *book.attempts,
                *(
                    each.model_copy(update={"squad_id": twin, "id": 500 + each.id})
                    for each in book.attempts
                    if each.squad_id == 1
                ),
            ),
            "sheets": (
                *book.sheets,
                *(
                    each.model_copy(update={"squad_id": twin, "id": 5000 + each.id})
                    for each in book.sheets
                    if each.squad_id == 1
                ),
            ),
            "absences": (
                *book.absences,
                *(each.model_copy(update={"squad_id": twin}) for each in book.absences if each.squad_id == 1),
            ),
        }
    )
    result = standings(doubled)
    assert result.row(1).total == result.row(twin).total
    assert result.row(1).rank == result.row(twin).rank


@given(books())
def test_whatever_is_in_the_book_every_question_has_an_answer(book: ScoreBook) -> None:
    result = standings(book)
    firmness(book, result)
    mark_gaps(result)
    for found in agreements(result, resamples=20):
        for coefficient in (found.sheets, *found.criteria.values()):
            numbers = [coefficient.value, *(coefficient.interval or ())]
            assert all(number is None or number == number for number in numbers)  # noqa: PLR0124 - NaN is not itself


@pytest.mark.parametrize("panel", PANELS)
@pytest.mark.parametrize("scale", SCALES)
def test_a_panel_in_which_all_sheets_are_equal_is_one_big_tie(panel: str, scale: str) -> None:
    art = event("art", rubric("patch", panel=panel, scale=scale, floor=2, full=8))
    book = ScoreBook(
        plan=plan(art),
        squads=squads(3),
        judges=judges(1, 1),
        sheets=tuple(sheet(squad, judge, "art.patch", [2, 2]) for squad in (1, 2, 3) for judge in (1, 2)),
    )
    result = standings(book)
    assert set(ranks(result).values()) == {1}
    assert result.straddle is not None
    assert firmness(book, result).effective is None
