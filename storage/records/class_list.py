"""The class list: who may sign up, and the yes/no columns that the school needs."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record

ClaimKind = Literal["has-account", "picked-twice"]
"""A name that somebody picked is a student without an account; or a student whose account is another."""


class ClassList(Record):
    """The list of one try-out, without its names."""

    tryout_id: int
    columns: tuple[str, ...]
    """Headings of the yes/no columns, in the file's order."""
    loaded_at: datetime


class ClassListEntry(Record):
    """One name on the list; `student_id` once somebody has picked it, or the coach has entered the student."""

    id: int
    tryout_id: int
    name: str
    folded: str
    """The name without what is no difference, such as upper case: the key under which it stands once in its section."""
    section: str
    answers: dict[str, bool]
    """By heading; only the coach sees them."""
    student_id: int | None = None


class WaitingStudent(Record):
    """Somebody who is not on the list and waits for the coach."""

    id: int
    tryout_id: int
    platform_id: int
    name: str
    section: str
    asked_at: datetime
