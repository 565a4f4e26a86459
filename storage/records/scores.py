"""What was measured: attempts at the table, absences, changes after the close; and the book of all, sheets included."""

from datetime import datetime
from decimal import Decimal
from typing import Literal

from pydantic import Field

from storage.records.base import Record
from storage.records.people import Judge, Squad
from storage.records.plan import Plan
from storage.records.score_sheets import Sheet


class Attempt(Record):
    """One official go of a squad at a measure of the table."""

    id: int
    squad_id: int
    event: str
    measure: str
    number: int
    """Counts from 1 for this squad and measure, run-offs apart."""
    items: dict[str, int] = {}
    """Count: item key to how many. Checklist: key of a line to 1 (yes) or 0 (no)."""
    deductions: Decimal = Decimal(0)
    """Count: points taken off; where lower is better, points added."""
    amount: Decimal | None = None
    """Number: the measured value, in the plan's unit."""
    seconds: Decimal | None = None
    """Time: seconds before fault seconds; None when the squad did not finish."""
    press_seconds: Decimal | None = None
    """Time: between the two presses, where it was taken so; `seconds` is the one that counts."""
    hand_seconds: Decimal | None = None
    """Time: by hand, where it was taken so."""
    faults: int = 0
    contributing: int | None = None
    """Share: members who contributed."""
    members: int | None = None
    """Share: members asked."""
    run_off: bool = False
    recorded_by: int
    """The platform id of who recorded it."""
    recorded_at: datetime
    undone_at: datetime | None = None


class Absence(Record):
    """A squad that did not take part in an event: absent counts 0, excused leaves the event out of its mean."""

    squad_id: int
    event: str
    excused: bool
    reason: str = Field("", max_length=300)


class LateChange(Record):
    """One squad's attempts in one event changed, or may be changed, although totals could be seen."""

    id: int
    tryout_id: int
    squad_id: int
    event: str
    kind: Literal["missing", "correction"]
    """There was nothing on record, and now there is; what was on record may be corrected."""
    reason: str
    """Empty for `missing`."""
    asked_by: str
    """Who asked, as a pseudonym."""
    asked_at: datetime
    agreed_at: datetime | None = None
    shut_at: datetime | None = None


class ScoreBook(Record):
    """Everything the standings are computed from."""

    plan: Plan
    squads: tuple[Squad, ...]
    members: dict[int, int] = {}
    """Squad id to number of members."""
    judges: tuple[Judge, ...] = ()
    attempts: tuple[Attempt, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    absences: tuple[Absence, ...] = ()
