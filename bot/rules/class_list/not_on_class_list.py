"""Who is not on the class list and waits: since when, in which order, who they may be, when the coach is told."""

from collections.abc import Iterable
from datetime import datetime

from bot.rules.class_list.class_list_admin import not_here
from storage.records.class_list import ClassListEntry, WaitingStudent


def in_order(waiting: Iterable[WaitingStudent]) -> list[WaitingStudent]:
    """Those who wait, as the coach reads them: who asked first stands first."""
    return sorted(waiting, key=lambda one: (one.asked_at, one.id))


def waits_since(before: WaitingStudent | None, now: datetime) -> datetime:
    """Since when somebody waits: from the first asking, though the name and section kept are those of the last."""
    return now if before is None else before.asked_at


def who_it_may_be(one: WaitingStudent, entries: Iterable[ClassListEntry]) -> list[ClassListEntry]:
    """Names on the list that somebody who waits may be: those of the same section that nobody has picked."""
    return not_here(entries, one.section)


def coach_is_told(before: WaitingStudent | None) -> bool:
    """Whether the coach hears of somebody who asks: once, however often they type another name or section."""
    return before is None
