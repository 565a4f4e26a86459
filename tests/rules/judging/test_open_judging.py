"""Which events are opened for judging, by themselves and by hand."""

from datetime import timedelta

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.open_judging import check_judging_runs, check_may_open, meets_ahead, opens_at_deadline, to_open
from storage.records.event_day import DaySlot
from tests.words.judging.longest_sheets import EVENTS, JUDGES, NOW

ONE, OTHER = EVENTS[0], EVENTS[1].model_copy(update={"surprise": True})


def test_at_the_deadline_everything_opens_but_surprises_and_what_is_open() -> None:
    assert opens_at_deadline(ONE, ()) and not opens_at_deadline(ONE, {ONE.key}) and not opens_at_deadline(OTHER, ())


def test_by_hand_an_event_is_opened_once_and_a_surprise_after_its_start() -> None:
    assert to_open([ONE, OTHER], (), {OTHER.key}) == [ONE] and to_open([ONE, OTHER], (), ()) == [ONE, OTHER]
    with pytest.raises(Refusal, match="surprise_first"):
        to_open([ONE, OTHER], {ONE.key}, {OTHER.key})
    with pytest.raises(Refusal, match="all_events_open"):
        to_open([ONE], {ONE.key}, ())
    check_may_open(ONE, (), (), 1)
    for opened, sealed, judges, reason in (
        ({ONE.key}, (), 1, "event_open"), ((), {ONE.key}, 1, "surprise_first"), ((), (), 0, "no_judges"),
    ):  # fmt: skip
        with pytest.raises(Refusal, match=reason):
            check_may_open(ONE, opened, sealed, judges)


def test_events_are_opened_from_the_brief_on_until_judging_is_closed() -> None:
    check_judging_runs("window")
    with pytest.raises(Refusal):
        check_judging_runs("settled")


def test_a_judge_meets_squads_ahead_in_interviews_still_to_come() -> None:
    slot = DaySlot(id=1, squad_id=1, kind="interview", event=ONE.key, judges=(1,), begins_at=NOW, ends_at=NOW)
    before = NOW - timedelta(minutes=1)
    assert meets_ahead(JUDGES[0], [slot], {ONE.key}, before) and not meets_ahead(JUDGES[0], [slot], {ONE.key}, NOW)
    assert not meets_ahead(JUDGES[1], [slot], {ONE.key}, before) and not meets_ahead(JUDGES[0], [slot], (), before)
