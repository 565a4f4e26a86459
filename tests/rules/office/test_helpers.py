"""Who dismisses a coach."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.office.helpers import check_may_dismiss


def test_the_last_coach_is_dismissed_by_whoever_manages_the_class_server_only() -> None:
    check_may_dismiss("coach", 2, by_manager=False)
    check_may_dismiss("coach", 1, by_manager=True)
    check_may_dismiss("typist", 1, by_manager=False)
    with pytest.raises(Refusal):
        check_may_dismiss("coach", 1, by_manager=False)
