"""How long the coach waits for members of a squad that is too small, and when the coach is reminded."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.rules.calendar.local_time import wall_clock
from bot.rules.core.refusal import Refusal
from bot.rules.squads import small_squads as rules
from tests.actions.conftest import small_plan
from tests.rules.squads.test_captain import member
from tests.words.invented import squad

PLAN = small_plan()
DAY = PLAN.calendar.brief.date()
"""A school day."""


def test_a_squad_lacks_members_up_to_the_smallest_size_and_may_be_allowed_to() -> None:
    found = [member(number, number) for number in range(1, 5)]
    assert PLAN.squads.smallest == 3
    assert [rules.members_missing(PLAN, found[:number]) for number in (2, 3, 4)] == [1, 0, 0]
    assert rules.is_small(PLAN, 0, allowed=False) and not rules.is_small(PLAN, 0, allowed=True)
    rules.check_small(squad(1, "Moles", "7-A"), True)
    with pytest.raises(Refusal, match="squad_is_not_small"):
        rules.check_small(squad(1, "Moles", "7-A"), False)


def test_the_coach_is_reminded_a_day_before_and_not_where_that_is_over() -> None:
    until = rules.end_of(PLAN, DAY)
    at = rules.remind_at(PLAN, until, until - timedelta(days=3))
    assert at is not None and until - rules.REMIND_BEFORE <= at < until
    assert rules.remind_at(PLAN, until, at) is None


def test_a_wait_that_ends_on_a_closed_day_goes_on_to_the_end_of_the_next_school_day() -> None:
    assert rules.later_end(PLAN, rules.end_of(PLAN, DAY)) is None
    saturday = DAY + timedelta(days=(5 - DAY.weekday()) % 7)
    later = rules.later_end(PLAN, rules.end_of(PLAN, saturday))
    assert later is not None
    assert wall_clock(later, ZoneInfo(PLAN.zone)) == datetime.combine(_monday(saturday), PLAN.calendar.brief.time())


def _monday(saturday: date) -> date:
    return saturday + timedelta(days=2)


def test_a_wait_concerns_a_squad_while_it_is_small_takes_part_and_got_no_other_day() -> None:
    moles = squad(1, "Moles", "7-A")
    assert rules.is_waited_for(moles, "window", as_planned=True, small=True)
    assert not rules.is_waited_for(moles, "window", as_planned=False, small=True)
    assert not rules.is_waited_for(moles, "window", as_planned=True, small=False)
    assert not rules.is_waited_for(moles, "settled", as_planned=True, small=True)
    assert not rules.is_waited_for(moles.model_copy(update={"withdrawn": True}), "window", as_planned=True, small=True)


def test_a_day_that_is_not_on_the_list_any_more_is_refused() -> None:
    now = rules.end_of(PLAN, DAY)
    first = rules.days_to_pick(PLAN, now)[0]
    assert rules.read_day(PLAN, first.isoformat(), now) == first
    with pytest.raises(Refusal, match="grace_day"):
        rules.read_day(PLAN, DAY.isoformat(), now)
