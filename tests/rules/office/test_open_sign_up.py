"""When sign-up opens, and what must be there first."""

from dataclasses import replace

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.office.open_sign_up import check_may_open, lacks
from tests.rules.calendar.ready_for_each_step import READY, SCHEDULE, kinds


def test_sign_up_opens_once_while_students_see_nothing_yet() -> None:
    check_may_open("drafting")
    with pytest.raises(Refusal):
        check_may_open("signup")


def test_channels_are_chosen_and_dates_are_yet_to_come_before_sign_up_opens() -> None:
    assert kinds(lacks(READY)) == []
    assert kinds(lacks(replace(READY, rooms=frozenset({"news"})))) == [("rooms", True)]
    assert kinds(lacks(replace(READY, now=SCHEDULE.brief))) == [("brief_past", True)]
    closed = replace(SCHEDULE, signup_closes=READY.now)
    assert kinds(lacks(replace(READY, schedule=closed))) == [("signup_past", True)]
