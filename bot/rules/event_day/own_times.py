"""Who reads the own times on the event day, and how long: squads, and the judges who get messages.

Nobody does before the coach has told the timetable.
"""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from storage.records.event_day import DayDraw, DaySlot
from storage.records.people import Judge
from storage.records.tryout import FROM_BRIEF_TO_CLOSE, State


def is_told(draw: DayDraw | None) -> bool:
    """Whether squads have read the timetable."""
    return draw is not None and draw.told_at is not None


def check_own(slots: Sequence[DaySlot], told: bool) -> None:
    """A squad takes its times along once it has some and they are told. Raises Refusal: `no_timetable`."""
    if not slots or not told:
        raise Refusal(DayReason.NO_TIMETABLE)


def squad_reads(state: State) -> bool:
    """Whether a squad's times still stand in its room."""
    return state != "archived"


def judge_reads(state: State) -> bool:
    """Whether a judge's interviews still stand in the judge's messages."""
    return state in FROM_BRIEF_TO_CLOSE


def reached(judges: Iterable[Judge]) -> set[int]:
    """The judges who have agreed to get messages; the others read the times on paper."""
    return {judge.id for judge in judges if judge.opted_in_at is not None}
