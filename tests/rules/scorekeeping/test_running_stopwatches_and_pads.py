"""Which stopwatches and run pads are shown at the table, in case their message was lost."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from bot.rules.scorekeeping.running_stopwatches_and_pads import LOST_AFTER, MOST_SHOWN, is_forgotten, newest, pad_runs
from storage.records.plan_measures import Time
from storage.records.run_pads_and_stopwatches import PadRun

NOW = datetime(2027, 1, 21, 9, 0, tzinfo=UTC)
TIME = Time(key="time", name="Time", limit=Decimal(480))


def test_a_clock_is_forgotten_some_time_after_its_limit() -> None:
    limit = timedelta(seconds=480)
    assert not is_forgotten(TIME, NOW - limit - LOST_AFTER, NOW)
    assert is_forgotten(TIME, NOW - limit - LOST_AFTER - timedelta(seconds=1), NOW)


def test_a_pad_runs_once_it_was_started_or_tapped() -> None:
    run = PadRun(id=1, squad_id=1, event="run", measure="socks", number=1, opened_at=NOW)
    assert not pad_runs(run)
    assert pad_runs(run.model_copy(update={"tapped": True})) and pad_runs(run.model_copy(update={"started_at": NOW}))


def test_the_newest_ones_are_shown() -> None:
    assert list(newest(range(MOST_SHOWN + 2))) == list(range(2, MOST_SHOWN + 2))
