"""Judging around the sheets: open events, seats on panels, ties of interest, reopened sheets, trials, paper."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class OpenEvent(Record):
    """An event whose sheets were handed out; closed when `closed_at` is set."""

    tryout_id: int
    event: str
    opened_at: datetime
    closed_at: datetime | None = None


class Seat(Record):
    """One judge sees one squad under one rubric."""

    judge_id: int
    squad_id: int
    event: str
    measure: str
    pinned: bool = False
    """Set by the coach: computing the panel again leaves it as it is."""


class TieOfInterest(Record):
    """A judge who knows someone in a squad and therefore does not mark it."""

    judge_id: int
    squad_id: int
    set_by: Literal["judge", "coach"]
    at: datetime


class Reopening(Record):
    """A sheet that the coach opened again after the close, until its judge has handed it in once more."""

    id: int
    sheet_id: int
    reason: str
    at: datetime
    done_at: datetime | None = None


class ReopeningRequest(Record):
    """Judging, or one sheet of it, is to be opened again after the close."""

    id: int
    tryout_id: int
    sheet_id: int | None = None
    """None where all of judging is meant."""
    reason: str
    asked_at: datetime
    agreed_at: datetime | None = None
    asked_by: str = ""
    """The coach who asked, as a pseudonym."""
    shut_at: datetime | None = None
    """Since when nobody can agree any more: the result was announced, or judging was closed once more."""


class Trial(Record):
    """An invented entry that all judges mark before the real ones, to compare how they read the rubric."""

    id: int
    tryout_id: int
    event: str
    measure: str
    sample: str
    """What the judges read: the invented entry in words."""
    picture_name: str = ""
    """The name of its picture's file; empty when there is none."""
    opened_at: datetime
    closed_at: datetime | None = None


class TrialSheet(Record):
    """One judge's marks for the invented entry; they never count."""

    trial_id: int
    judge_id: int
    marks: dict[str, int] = {}
    updated_at: datetime


class PaperEntry(Record):
    """A paper sheet as it was typed in, the first or the second time."""

    sheet_id: int
    number: int
    entered_by: int
    """The platform id of who typed it."""
    marks: dict[str, int] = {}
    comments: dict[str, str] = {}
    at: datetime
