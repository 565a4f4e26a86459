"""What may be typed into the forms of the plan."""

from decimal import Decimal

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.plan import edit_plan
from storage.records.plan_limits import SQUAD_MEMBERS, WINDOW_DAYS
from tests.actions.conftest import small_plan


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
