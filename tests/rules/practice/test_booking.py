"""While what turns at the practice table can be seen, booked and given back."""

from datetime import UTC, datetime

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.practice import booking

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


def test_turns_are_booked_in_the_window_and_can_be_seen_after_it() -> None:
    booking.check_running("window", BRIEF)
    booking.check_begun("settled", BRIEF)
    with pytest.raises(Refusal):
        booking.check_running("judging", BRIEF)
    with pytest.raises(Refusal):
        booking.check_begun("signup", BRIEF)
