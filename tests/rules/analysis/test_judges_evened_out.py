"""Harsh and lenient judges evened out, for a look."""

from fractions import Fraction

from bot.rules.analysis.judges_evened_out import evened, evened_standings
from bot.rules.analysis.what_if import PANELS, with_panel
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.books import event, judges, plan, rubric, sheet, squads


def book(seen: dict[int, dict[int, int]]) -> ScoreBook:
    """By squad: judge to the mark of one criterion."""
    return ScoreBook(
        plan=plan(event("patch", rubric("patch", (1,)))),
        squads=squads(len(seen)),
        judges=judges(1, 1, 1),
        sheets=tuple(
            sheet(squad, judge, "patch.patch", [mark]) for squad, m in seen.items() for judge, mark in m.items()
        ),
    )


def test_on_complete_panels_evening_out_changes_no_total() -> None:
    whole = book({1: {1: 1, 2: 3}, 2: {1: 2, 2: 4}, 3: {1: 2, 2: 3}})
    assert [one.complete for one in evened(standings(whole))] == [True]
    assert [row.total for row in evened_standings(whole).rows] == [row.total for row in standings(whole).rows]


def test_a_squad_that_only_met_the_harsh_judge_gains_by_evening_out() -> None:
    unequal = book({1: {1: 2}, 2: {1: 1, 2: 3}, 3: {2: 3}})
    (found,) = evened(standings(unequal))
    assert not found.complete and found.fit.connected
    assert found.fit.effects == {1: Fraction(-1), 2: Fraction(1)}
    assert standings(unequal).placed == (3,)
    assert evened_standings(unequal).placed == (1,)


def test_groups_without_a_common_judge_are_told_apart() -> None:
    (found,) = evened(standings(book({1: {1: 2}, 2: {1: 1}, 3: {2: 3}})))
    assert [part.squads for part in found.fit.parts] == [(1, 2), (3,)]


def test_every_panel_rule_can_be_tried() -> None:
    whole = book({1: {1: 1, 2: 3, 3: 3}, 2: {1: 2, 2: 2, 3: 2}})
    totals = {rule: standings(with_panel(whole, rule)).rows[0].total for rule in PANELS}
    assert totals["median"] == 75 and totals["mean"] == totals["adjusted"] == totals["trimmed"] == Fraction(175, 3)
