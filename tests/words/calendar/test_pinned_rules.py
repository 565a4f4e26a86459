"""The pinned message about the rules leads only where a press does something."""

from bot.rules.calendar.calendar import schedule
from bot.words.calendar.pinned_rules import pinned_rules
from bot.words.plan.public_plan import public_plan
from tests.actions.conftest import small_plan
from tests.actions.table_help import labels


def test_the_rules_can_be_asked_about_until_judging_is_closed() -> None:
    plan = small_plan()
    for may_ask in (True, False):
        said = pinned_rules(plan, schedule(plan), public_plan(plan, ()), may_ask)
        assert ("Ask about the rules" in labels(said)) == may_ask == ("ask about the rules" in said.text)
        assert {"Open the brief", "The rules as a file"} <= set(labels(said))
