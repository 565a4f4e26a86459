"""Whether somebody has checked: on the same day, since the last stop, and for this squad."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.safety import LONGEST_REASON, check_safe, is_checked, read_stop_reason, told_name
from storage.records.event_day import SafetyCheck, SafetyStop
from storage.records.people import Officer
from tests.actions.conftest import small_plan

NOW = datetime(2027, 1, 21, 9, 0, tzinfo=UTC)
ZONE = ZoneInfo("Europe/Berlin")


def check(at: datetime, squad: int | None = None) -> SafetyCheck:
    return SafetyCheck(id=1, tryout_id=1, event="run", squad_id=squad, checked_by=9, checked_at=at)


def test_a_check_holds_on_its_own_day_until_a_stop_and_of_a_wave_for_its_squads_only() -> None:
    early = NOW - timedelta(hours=1)
    assert is_checked([check(early)], 1, NOW, ZONE)
    assert not is_checked([check(NOW - timedelta(days=1))], 1, NOW, ZONE)
    assert not is_checked([check(early)], 1, NOW, ZONE, stopped_at=NOW - timedelta(minutes=5))
    assert is_checked([check(early, squad=1)], 1, NOW, ZONE) and not is_checked([check(early, squad=2)], 1, NOW, ZONE)


def test_a_stop_holds_until_it_is_lifted_also_where_all_is_checked() -> None:
    event = small_plan().events[0]
    stop = SafetyStop(id=1, tryout_id=1, event=event.key, reason="A cable.", stopped_by=9, stopped_at=NOW)
    with pytest.raises(Refusal, match="safety_stopped"):
        check_safe(event, True, stop)
    check_safe(event, True, stop.model_copy(update={"lifted_at": NOW}))


def test_who_helps_is_named_as_the_try_out_calls_them_and_others_as_the_platform_does() -> None:
    helps = Officer(id=1, tryout_id=1, platform_id=9, name="Mx Pell", role="scorekeeper")
    assert [told_name([helps], who, "pelican") for who in (9, 8)] == ["Mx Pell", "pelican"]


def test_a_stop_says_why_in_a_few_words() -> None:
    assert read_stop_reason(f"  A  cable {'x' * LONGEST_REASON}") == f"A cable {'x' * LONGEST_REASON}"[:LONGEST_REASON]
    with pytest.raises(Refusal, match="stop_reason"):
        read_stop_reason(" x ")
