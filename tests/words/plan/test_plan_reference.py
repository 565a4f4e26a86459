"""The reference, the schema and the plans that are shipped: current, whole, and agreed on by another validator."""

import tomllib
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest

from bot.rules.plan.plan_key_checks import MEASURES, TABLES
from bot.rules.plan.plan_remarks import plan_remarks
from bot.rules.plan.read_plan import read_plan, write_plan
from bot.words.plan.builtin_plan import bridges_and_debate_plan_text, builtin_plan_text
from bot.words.plan.plan_key_meanings import MEANINGS
from bot.words.plan.plan_reference import plan_reference
from bot.words.plan.plan_schema import plan_schema
from tests.rules.plan.test_read_plan import ONE_MISTAKE
from tests.rules.plan_files import GOOD, changed

PAGE = Path(__file__).parents[3] / "bot/words/plan/plan_reference.md"
VALIDATOR = jsonschema_rs.validator_for(plan_schema())
BETWEEN_PARTS = {
    "repeated", "zone", "squad_sizes", "day_after_window", "holidays_country", "holidays_region", "no_school_days",
    "deadline_closed", "year", "signup_late", "judging_early", "retention_short", "scale_maximum", "scale_between",
    "two_attempts", "scale_ends_equal", "hand_in_secret", "trimmed_judges", "tie_break", "practice_overlap",
    "practice_days", "least_present", "day_ends", "day_date", "day_early", "higher_ends", "lower_ends", "time_ends",
    "best_lower", "zero_points", "only_penalties",
    "group_section", "group_left", "places_sum",
    "range_ends", "range_decimals", "scale_negative", "day_number", "too_fine", "empty", "not_number",
}  # fmt: skip
"""What a schema cannot say, or what JSON cannot write (infinity)."""


def keys(data: Any, path: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
    """Every key of a plan's data, with the tables it stands in."""
    if isinstance(data, list):
        return set().union(*(keys(entry, path) for entry in data)) if data else set()
    if not isinstance(data, dict) or path == ("calendar", "remind_at_on"):
        return set()
    return {(*path, key) for key in data} | set().union(*(keys(value, (*path, key)) for key, value in data.items()))


def every_key() -> set[tuple[str, ...]]:
    found = {(*path, name) for path, model in TABLES.items() for name in model.model_fields}
    return found | {("events", "measures", name) for model in MEASURES.values() for name in model.model_fields}


def as_json(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: as_json(entry) for key, entry in value.items()}
    if isinstance(value, list):
        return [as_json(entry) for entry in value]
    return value.isoformat() if hasattr(value, "isoformat") else value


def test_the_page_is_what_the_command_prints() -> None:
    """After a change of the models: `tenbell plan reference > bot/words/plan/plan_reference.md`."""
    assert PAGE.read_text("utf-8") == plan_reference()


def test_no_key_is_missing_from_the_reference_and_none_is_left_over() -> None:
    assert MEANINGS.keys() == every_key()
    rows = [line.split("`")[1] for line in plan_reference().splitlines() if line.startswith("| `")]
    assert sorted(rows) == sorted(key[-1] for key in every_key())


def test_the_two_plans_that_are_shipped_show_every_key() -> None:
    shown = keys(tomllib.loads(builtin_plan_text())) | keys(tomllib.loads(bridges_and_debate_plan_text()))
    assert every_key() - shown == set()


def test_the_second_plan_is_right_and_worth_no_remark() -> None:
    plan = read_plan(bridges_and_debate_plan_text())
    assert plan_remarks(plan) == ()
    assert read_plan(write_plan(plan)) == plan
    assert {measure.kind for event in plan.events for measure in event.measures} == set(MEASURES)


def test_the_schema_is_one_by_its_own_rules() -> None:
    jsonschema_rs.meta.validate(plan_schema())


@pytest.mark.parametrize("toml", [GOOD, builtin_plan_text(), bridges_and_debate_plan_text()])
def test_another_validator_takes_the_good_plans(toml: str) -> None:
    assert [error.message for error in VALIDATOR.iter_errors(as_json(tomllib.loads(toml)))] == []


@pytest.mark.parametrize(("changes", "path", "kind"), ONE_MISTAKE)
def test_another_validator_finds_every_mistake_of_shape(changes: list[tuple[str, str]], path: str, kind: str) -> None:
    if kind in BETWEEN_PARTS:
        return
    found = list(VALIDATOR.iter_errors(as_json(tomllib.loads(changed(*changes)))))
    assert found, (path, kind)
