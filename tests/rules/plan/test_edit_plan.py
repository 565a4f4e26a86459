"""What may be typed into the forms of the plan, and when a change of it is asked for once more."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.plan import change_plan, edit_plan
from storage.records.plan_limits import SQUAD_MEMBERS, WINDOW_DAYS
from tests.actions.conftest import small_plan

ASKED = datetime(2027, 1, 15, 12, 0, tzinfo=UTC)


def test_sizes_are_typed_as_two_numbers_or_as_one_for_both() -> None:
    assert edit_plan.split_sizes("3-5") == ("3", "5") and edit_plan.split_sizes("4") == ("4", "4")
    assert [one.strip() for one in edit_plan.split_sizes("3 to 5")] == ["3", "5"]
    assert edit_plan.read_largest(str(SQUAD_MEMBERS.most)) == SQUAD_MEMBERS.most
    for read, typed in ((edit_plan.read_days, WINDOW_DAYS.most + 1), (edit_plan.read_smallest, 0)):
        with pytest.raises(Refusal):
            read(str(typed))


def test_a_weight_belongs_to_an_event_of_the_plan_and_is_not_below_zero() -> None:
    events = small_plan().events
    assert edit_plan.read_weight(f"{events[0].key} = 40", events, str) == (events[0].key, Decimal(40))
    for line in ("gone = 40", f"{events[0].key} = -1"):
        with pytest.raises(Refusal):
            edit_plan.read_weight(line, events, str)


def test_while_sign_up_is_open_only_other_dates_are_asked_for_once_more() -> None:
    dates, name = (change_plan.Change("dates"),), (change_plan.Change("name"),)
    assert change_plan.takes_effect_at_once("drafting", dates) and change_plan.takes_effect_at_once("signup", name)
    assert not change_plan.takes_effect_at_once("signup", dates) and not change_plan.takes_effect_at_once(
        "window", name
    )


def test_once_the_brief_is_out_a_change_has_a_reason_and_how_scores_count_two_coaches_or_ten_minutes() -> None:
    change_plan.check_reason(None, "")
    change_plan.check_reason(ASKED, "A clearer name")
    with pytest.raises(Refusal):
        change_plan.check_reason(ASKED, "")
    change_plan.check_agreed(ASKED, by_another=True, now=ASKED)
    change_plan.check_agreed(ASKED, by_another=False, now=ASKED + timedelta(minutes=10))
    with pytest.raises(Refusal):
        change_plan.check_agreed(ASKED, by_another=False, now=ASKED + timedelta(minutes=9))
    plan = small_plan()
    assert change_plan.counts_otherwise(plan, plan.model_copy(update={"places": plan.places + 1}))
    assert not change_plan.counts_otherwise(plan, plan.model_copy(update={"name": "Another"}))
