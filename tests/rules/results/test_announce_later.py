"""The next time that a clock on the wall shows (common practice, no source)."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.results.announce_later import check_waiting, next_time, says_itself

ZONE = ZoneInfo("America/New_York")
NOW = datetime(2026, 11, 20, 15, 0, tzinfo=ZONE)


def test_a_time_that_is_past_or_now_is_tomorrows() -> None:
    assert next_time("15:20", NOW, ZONE) == datetime(2026, 11, 20, 15, 20, tzinfo=ZONE)
    assert next_time("15:00", NOW, ZONE) == datetime(2026, 11, 21, 15, 0, tzinfo=ZONE)
    assert next_time("08:10", NOW, ZONE) == datetime(2026, 11, 21, 8, 10, tzinfo=ZONE)


def test_nothing_is_planned_before_judging_is_closed_or_after_it_was_said() -> None:
    check_waiting("settled", None)
    with pytest.raises(Refusal, match="not_ready_to_announce"):
        check_waiting("judging", None)
    with pytest.raises(Refusal, match="already_announced"):
        check_waiting("announced", NOW)


def test_it_is_said_by_itself_only_as_seen_in_time_and_while_nothing_is_announced() -> None:
    assert says_itself(True, False, "settled", None)
    assert not says_itself(False, False, "settled", None)
    assert not says_itself(True, True, "settled", None)
    assert not says_itself(True, False, "judging", None)
    assert not says_itself(True, False, "settled", NOW)
