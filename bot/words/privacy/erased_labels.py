"""What people read in the place of names: of people who were erased, or have left."""

from storage.records.people import ErasedLabels

ERASED = ErasedLabels(name="(erased)", student="Student %d", squad="Squad %d", judge="Judge %d")
SOMEBODY = "Somebody"
"""Who has left, where a squad reads of a student whose name is erased."""
FORMER = "somebody who has left"
"""Whose part of the hand-in it is, where it stays with the squad that its student has left."""


def student_label(student_id: int) -> str:
    """What stands in the place of a student's name."""
    return ERASED.student % student_id
