"""Who reads the own times of the event day, and how long."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.own_times import check_own, judge_reads, squad_reads
from tests.rules.event_day.days import running


def test_squads_keep_their_times_till_the_try_out_is_put_away_and_judges_till_the_close() -> None:
    assert [squad_reads(state) for state in ("window", "judging", "settled", "archived")] == [True, True, True, False]
    assert [judge_reads(state) for state in ("window", "judging", "settled", "archived")] == [True, True, False, False]


def test_a_squad_takes_its_times_along_once_there_are_some_and_they_are_told() -> None:
    slots = running().slots
    check_own(slots, True)
    for some, told in ((slots, False), ((), True)):
        with pytest.raises(Refusal, match="no_timetable"):
            check_own(some, told)
