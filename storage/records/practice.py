"""Turns at the practice table, as far as something has happened to them."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class Turn(Record):
    """One turn that is not simply free; there is at most one row for each instant at which a turn begins."""

    tryout_id: int
    begins_at: datetime
    squad_id: int | None = None
    """Whose turn it is; None where it is blocked."""
    state: Literal["held", "lost", "blocked"]
    """`lost` through equipment: the squad has it back to book again; `blocked`: the table cannot be used."""


class PracticeDraw(Record):
    """The lot that says who chooses first; its order follows from the pool and the key."""

    tryout_id: int
    pool: tuple[int, ...]
    """The squads in it, in the order in which the list was published."""
    published_at: datetime
    key: str | None = None
    """What was drawn with; None until then."""
    drawn_at: datetime | None = None
