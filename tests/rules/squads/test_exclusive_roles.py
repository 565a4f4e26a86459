"""Who helps to run a try-out has no seat in a squad, and who has one does not help."""

from dataclasses import replace

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads import exclusive_roles as rules
from tests.rules.calendar.ready_for_each_step import READY, kinds
from tests.words.invented import squad


def test_only_who_is_nothing_else_may_compete() -> None:
    assert rules.may_compete(()) and rules.may_compete({"competitor"})
    for role in ("coach", "scorekeeper", "typist", "judge"):
        assert not rules.may_compete({"competitor", role})
        with pytest.raises(Refusal, match="helper_cannot_compete"):
            rules.check_may_compete({role})


def test_who_manages_the_class_server_counts_as_a_coach() -> None:
    with pytest.raises(Refusal, match="manager_cannot_compete"):
        rules.check_may_compete({"competitor"}, manages_server=True)
    assert rules.would_help((), manages_server=True) and not rules.would_help({"competitor"}, manages_server=False)


def test_who_has_a_seat_does_not_help() -> None:
    rules.check_may_help("Ada", None)
    with pytest.raises(Refusal, match="competitor_cannot_help"):
        rules.check_may_help("Ada", squad(1, "Moles", "7-A"))


def test_who_helps_and_has_a_seat_is_named_before_each_step_from_a_to_z() -> None:
    [lack] = rules.lacks(replace(READY, suspended=("Bo", "Ada")))
    assert kinds([lack]) == [("suspended", False)] and lack.fields == {"students": ("Ada", "Bo")}
