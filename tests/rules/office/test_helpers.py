"""Who dismisses a coach, and in which order helpers are listed."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.office.helpers import check_may_dismiss, in_order
from storage.records.people import Officer


def test_the_last_coach_is_dismissed_by_whoever_manages_the_class_server_only() -> None:
    check_may_dismiss("coach", 2, by_manager=False)
    check_may_dismiss("coach", 1, by_manager=True)
    check_may_dismiss("typist", 1, by_manager=False)
    with pytest.raises(Refusal):
        check_may_dismiss("coach", 1, by_manager=False)


def test_helpers_are_listed_as_they_were_enrolled() -> None:
    found = [Officer(id=number, tryout_id=1, platform_id=number, name="Ms Abara", role="typist") for number in (2, 1)]
    assert in_order(found) == found[::-1]
