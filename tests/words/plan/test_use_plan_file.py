"""Mistakes of a plan file, told in a message or in a file."""

from bot.rules.plan.plan_problems import PlanProblem
from bot.words.plan import use_plan_file
from storage.records.message import MESSAGE_LENGTH


def test_a_short_list_of_mistakes_needs_no_file() -> None:
    few = use_plan_file.bad_file([PlanProblem(("zone",), "missing")])
    assert few.files == () and "zone" in few.text
    many = use_plan_file.bad_file([PlanProblem(("zone",), "missing")] * 60)
    assert len(many.files) == 1 and len(many.text) <= MESSAGE_LENGTH
