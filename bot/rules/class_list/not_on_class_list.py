"""Who is not on the class list and waits: in which order, which names they may be, and when the coach is told."""

from collections.abc import Iterable

from bot.rules.class_list.class_list_admin import not_here
from storage.records.class_list import ClassListEntry, WaitingStudent


def in_order(waiting: Iterable[WaitingStudent]) -> list[WaitingStudent]:
    """Those who wait, as the coach reads them: who asked first stands first."""
    return sorted(waiting, key=lambda one: one.id)


def who_it_may_be(one: WaitingStudent, entries: Iterable[ClassListEntry]) -> list[ClassListEntry]:
    """Names on the list that somebody who waits may be: those of the same section that nobody has picked."""
    return not_here(entries, one.section)


def coach_is_told(waits_already: bool) -> bool:
    """Whether the coach hears of somebody who asks: once, however often they type another name or section."""
    return not waits_already
