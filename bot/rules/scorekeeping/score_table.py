"""A squad's page at the table: how its next attempt can be entered, the filled button first, and what is corrected."""

from typing import Literal

from storage.records.plan_measures import Count, Measure, Time

Way = Literal["who is here", "run pad", "stopwatch", "form"]


def may_enter(made: int, allowed: int, absent: bool, tied: bool, settled: bool) -> bool:
    """Whether an attempt can be entered: a run-off of a tie, or one that is left, after the close only the first."""
    return not absent and (tied or (made < allowed and not is_corrected(made, absent, settled)))


def ways_in(measure: Measure, to_tick: bool) -> tuple[Way, ...]:
    """How an attempt is entered, the most useful way first: who is here where that is to be ticked, then while it
    lasts, then typed.
    """
    first: tuple[Way, ...] = ("who is here",) if to_tick else ()
    live: tuple[Way, ...] = ("run pad",) if isinstance(measure, Count) else ()
    timed: tuple[Way, ...] = ("stopwatch",) if isinstance(measure, Time) else ()
    return (*first, *live, *timed, "form")


def is_corrected(made: int, absent: bool, settled: bool) -> bool:
    """Whether what is on record of a squad is no longer undone by one person, but corrected by two."""
    return settled and (made > 0 or absent)


def opens_at_once(measures: int, running: int) -> bool:
    """Whether the table opens at the squads: there is nothing to pick but one measure."""
    return measures == 1 and not running
