"""Private wishes of students: with whom they would like to be, and rather not."""

from storage.records.base import Record


class StoredWish(Record):
    """Whom a student would like to be with, or rather not."""

    student_id: int
    other_id: int
    together: bool
