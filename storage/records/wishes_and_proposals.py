"""Whom students would like to be with, and the squads proposed for students without one."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class Proposal(Record):
    """A proposal of the coach: a draft until `accepted_at`."""

    tryout_id: int
    made_at: datetime
    accepted_at: datetime | None = None


class ProposedSeat(Record):
    """Where one student would go: into a squad that is there, into one yet to be founded, or (neither) nowhere."""

    student_id: int
    tryout_id: int
    squad_id: int | None = None
    new_squad: int | None = None
    answer: Literal["yes", "no"] | None = None


class StoredWish(Record):
    """Whom a student would like to be with, or rather not."""

    student_id: int
    other_id: int
    together: bool
