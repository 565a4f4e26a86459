"""Private wishes: of whom a student may say something, and in which order they stand there."""

from collections.abc import Iterable

from storage.records.people import Student


def others_in_order(me: Student, everybody: Iterable[Student]) -> list[Student]:
    """Everybody else of somebody's section, by name."""
    others = [one for one in everybody if one.section == me.section and one.id != me.id]
    return sorted(others, key=lambda one: (one.name.casefold(), one.id))
