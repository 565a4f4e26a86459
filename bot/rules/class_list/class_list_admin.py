"""The class list as the coach looks after it: who is not on it, who has come by section, who has no yes."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from bot.rules.class_list.pick_own_name import in_order
from bot.rules.squads.roster_board import Roster
from storage.records.class_list import ClassListEntry
from storage.records.people import Student


def strangers(students: Iterable[Student], entries: Iterable[ClassListEntry]) -> list[Student]:
    """Students who have signed up and are not on the list."""
    listed = {entry.student_id for entry in entries}
    return [student for student in students if student.id not in listed]


def not_here(entries: Iterable[ClassListEntry], section: str | None = None) -> list[ClassListEntry]:
    """Names that nobody has picked, of one section or of all, in order."""
    free = (one for one in entries if one.student_id is None)
    return in_order(one for one in free if section is None or one.section == section)


def come_by_section(entries: Sequence[ClassListEntry]) -> list[tuple[str, int, int]]:
    """How many names of each section have been picked, and how many there are; sections A to Z."""
    all_of = Counter(one.section for one in entries)
    come = Counter(one.section for one in entries if one.student_id is not None)
    return [(section, come[section], number) for section, number in sorted(all_of.items())]


def yes_of_signed_up(entries: Iterable[ClassListEntry], column: str) -> tuple[int, int]:
    """How many of those who have signed up have a yes in a column, and how many have signed up."""
    signed = [entry for entry in entries if entry.student_id is not None]
    return sum(entry.answers.get(column, False) for entry in signed), len(signed)


def missing_yes(columns: Sequence[str], entries: Iterable[ClassListEntry], squads: Roster) -> dict[str, dict[str, int]]:
    """How many have no yes, by column and squad (under an empty name those without one); only who is on the list."""
    answers = {entry.student_id: entry.answers for entry in entries}
    return {column: {squad.name if squad else "": _without(column, members, answers) for squad, members in squads}
            for column in columns}  # fmt: skip


def _without(column: str, members: Iterable[Student], answers: Mapping[int | None, Mapping[str, bool]]) -> int:
    return sum(not answers[member.id].get(column, False) for member in members if member.id in answers)
