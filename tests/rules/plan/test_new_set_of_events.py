"""What a new set of events brings along."""

from datetime import time

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.plan.new_set_of_events import check_may_be_made, practice_table, tie_breaks
from storage.records.plan import Practice
from tests.actions.conftest import small_plan


def test_equal_totals_are_parted_by_the_events_one_after_another_what_parted_before_first() -> None:
    run, bunting, chain = (event.key for event in small_plan().events)
    events = small_plan().events
    assert tie_breaks(events, ()) == (run, bunting, chain)
    assert tie_breaks(events, ("gone", chain, bunting)) == (chain, bunting, run)


def test_there_is_a_practice_table_where_times_are_typed_and_it_keeps_all_else() -> None:
    times = (time(12, 10), time(15, 40))
    before = Practice(times=(time(8, 0),), minutes=30, turns=2)
    assert practice_table((), before) is None
    assert practice_table(times, None) == Practice(times=times)
    assert practice_table(times, before) == before.model_copy(update={"times": times})


def test_once_the_brief_is_out_what_is_measured_stays() -> None:
    check_may_be_made("drafting")
    check_may_be_made("signup")
    with pytest.raises(Refusal):
        check_may_be_made("window")
