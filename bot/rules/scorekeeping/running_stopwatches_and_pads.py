"""Stopwatches and run pads that still run: which are shown at the table, in case their message was lost."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import TypeVar

from storage.records.plan_measures import Time
from storage.records.run_pads_and_stopwatches import PadRun, Stopwatch

LOST_AFTER = timedelta(minutes=30)
"""A clock that ran this much over the limit was forgotten."""
MOST_SHOWN = 3
"""So many of the clocks and run pads that run have a way back beside the measures, the newest ones."""
Shown = TypeVar("Shown")


def in_order(running: Sequence[tuple[datetime, Stopwatch]]) -> list[tuple[datetime, Stopwatch]]:
    """Clocks with the instant at which each was started, the newest last."""
    return sorted(running, key=lambda clock: (clock[0], clock[1].squad_id))


def is_forgotten(measure: Time, since: datetime, now: datetime) -> bool:
    """Whether nobody waits for a clock any more that has run since then."""
    return now - since > timedelta(seconds=float(measure.limit)) + LOST_AFTER


def pad_runs(run: PadRun) -> bool:
    """Whether a run pad that is open is in use: its clock was started, or something was tapped."""
    return run.started_at is not None or run.tapped


def newest(running: Sequence[Shown]) -> Sequence[Shown]:
    """Of what runs, the newest last, those that are shown: the newest."""
    return running[-MOST_SHOWN:]
