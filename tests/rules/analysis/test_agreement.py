"""Which sheets enter the agreement of judges, rubric by rubric, and the figures of all measures together."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from bot.rules.analysis.agreement import agreements
from bot.rules.analysis.intraclass_correlation import icc
from bot.rules.analysis.kendall_w import kendall_w
from bot.rules.analysis.krippendorff_alpha import alpha
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.books import event, judges, plan, rubric, sheet, squads


def judged_book(marks: Mapping[tuple[int, int], Sequence[int] | None], *weights: object) -> ScoreBook:
    """Squad and judge to marks."""
    return ScoreBook(
        plan=plan(event("art", rubric("patch", levels=5))),
        squads=squads(max(squad for squad, _ in marks)),
        judges=judges(*weights),
        sheets=tuple(sheet(squad, judge, "art.patch", row) for (squad, judge), row in marks.items()),
    )


def test_a_whole_panel_has_every_coefficient_and_an_incomplete_one_only_alpha() -> None:
    chance = np.random.default_rng(2)
    marks: dict[tuple[int, int], Any] = {
        (squad, judge): chance.integers(1, 6, 2).tolist() for squad in range(1, 8) for judge in range(1, 4)
    }
    [found] = agreements(standings(judged_book(marks, 1, 1, 1)))
    assert (found.judges, found.squads, found.complete, found.few) == (3, 7, True, False)
    values = [[sum(marks[squad, judge]) for judge in range(1, 4)] for squad in range(1, 8)]
    assert found.icc == icc(values)
    assert found.sheets.value == alpha(values, "interval")
    assert found.concordance == kendall_w(list(zip(*values, strict=True)))
    assert found.criteria["c2"].value == alpha(
        [[marks[squad, judge][1] for judge in range(1, 4)] for squad in range(1, 8)], "ordinal"
    )
    marks[3, 2] = None
    [partial] = agreements(standings(judged_book(marks, 1, 1, 1)))
    assert (partial.icc, partial.concordance, partial.complete) == (None, None, False)
    assert partial.sheets.value is not None


def test_a_judge_who_does_not_count_plays_no_part_in_the_agreement() -> None:
    marks = {(squad, judge): [1 + (squad * judge) % 5, 2] for squad in range(1, 7) for judge in range(1, 4)}
    [found] = agreements(standings(judged_book(marks, 1, 1, 0)))
    assert found.judges == 2
    assert found.few


def test_before_the_first_sheet_nothing_can_be_computed_and_nothing_breaks() -> None:
    [found] = agreements(standings(judged_book({(1, 1): None, (2, 1): None}, 1)))
    assert (found.judges, found.squads, found.few) == (0, 0, True)
    assert (found.sheets.value, found.icc, found.concordance, found.spread) == (None, None, None, None)
