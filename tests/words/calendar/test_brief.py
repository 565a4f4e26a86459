"""The brief fits its pages, has everything a squad needs, and keeps the surprise; its pinned message leads on."""

from datetime import datetime

import pytest

from bot.rules.calendar.calendar import schedule
from bot.words.calendar import brief
from bot.words.plan import edit_plan
from bot.words.plan.builtin_plan import builtin_plan
from bot.words.plan.public_plan import public_plan
from storage.records.message import MESSAGE_LENGTH
from storage.records.plan import Plan
from tests.actions.conftest import small_plan
from tests.actions.table_help import labels

BUILT_IN = builtin_plan(datetime(2027, 1, 11, 15, 30), "America/New_York")  # noqa: DTZ001
LONGEST = small_plan(
    name="N" * 100,
    brief="B" * 1800,
    sections=tuple(f"{number:02} {'S' * 27}" for number in range(25)),
)


def whole_brief(plan: Plan) -> str:
    """All pages of the brief."""
    return "\n".join(brief.brief_opened(plan, schedule(plan), page).text for page in range(12))


@pytest.mark.parametrize("plan", [BUILT_IN, LONGEST], ids=["built-in", "longest"])
def test_brief_and_plan_fit_their_pages(plan: Plan) -> None:
    for page in range(12):
        assert len(brief.brief_opened(plan, schedule(plan), page).text) <= MESSAGE_LENGTH
        assert len(edit_plan.shown(plan, schedule(plan), page).text) <= MESSAGE_LENGTH
    assert len(edit_plan.edit_plan_panel(plan, "window", "Done.").text) <= MESSAGE_LENGTH
    for form in (
        edit_plan.dates_form(plan, "signup"),
        edit_plan.dates_form(plan, "window"),
        edit_plan.basics_form(plan, "window"),
        edit_plan.weights_form(plan, "window"),
        edit_plan.words_form(plan, "window"),
    ):
        assert len(form.fields) <= 5


def test_the_brief_has_everything_a_squad_needs_but_the_surprise() -> None:
    found = whole_brief(BUILT_IN)
    for part in ("Sock run", "Bunting", "40 %", "30 %", "Ten socks", "One idea", "Robot off"):
        assert part in found
    for secret in ("Paper chain", "chain", "scissors", "glue stick", "Teamwork"):
        assert secret not in found
    assert "A surprise** (30 % of the total)" in found


def test_the_brief_gives_shares_exactly_as_the_result_does() -> None:
    alike = BUILT_IN.model_copy(
        update={"events": tuple(one.model_copy(update={"weight": 1}) for one in BUILT_IN.events)}
    )
    assert "A surprise** (33.33 % of the total)" in whole_brief(alike)


def test_where_own_times_stand_is_true_before_and_after_they_are_made() -> None:
    told = brief.event_days(BUILT_IN, schedule(BUILT_IN))
    assert told.startswith("The event day is ") and told.endswith(". Your squad reads its own times in its room.")


def test_the_rules_can_be_asked_about_until_judging_is_closed() -> None:
    plan = small_plan()
    for may_ask in (True, False):
        said = brief.pinned_rules(plan, schedule(plan), public_plan(plan, ()), may_ask)
        assert ("Ask about the rules" in labels(said)) == may_ask == ("ask about the rules" in said.text)
        assert {"Open the brief", "The rules as a file"} <= set(labels(said))
