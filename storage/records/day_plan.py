"""The event days as the coach plans them: dates, lessons, tables, and how long a run and an interview take."""

from datetime import date as local_date
from datetime import time
from typing import Literal

from pydantic import Field

from storage.records.base import Record
from storage.records.plan_value_types import Line, Section


class Lesson(Record):
    """When a section has its lesson on the event days: its squads run then."""

    section: Section
    begins: time
    ends: time
    date: local_date | None = None
    """The day it is on; every event day when absent."""


class Break(Record):
    """Minutes of each event day in which nobody runs and nobody is interviewed."""

    begins: time
    ends: time


class DayPlan(Record):
    """What the timetable of the event days is made from. Times are local to the plan's zone."""

    dates: tuple[local_date, ...] = Field((), max_length=5)
    """The first school day after the deadline when absent."""
    begins: time = time(8, 0)
    """When the day begins and ends for squads whose section has no lesson of its own."""
    ends: time = time(15, 0)
    lessons: tuple[Lesson, ...] = Field((), max_length=60)
    breaks: tuple[Break, ...] = Field((), max_length=10)
    tables: int = Field(1, ge=1, le=10)
    """Runs that can go on at the same time."""
    run_minutes: int = Field(5, ge=1, le=120)
    """One run with setting up and clearing away."""
    interview_minutes: int = Field(10, ge=0, le=120)
    """0 where squads are not interviewed."""
    change_minutes: int = Field(3, ge=0, le=60)
    """What judges need between two interviews."""
    interviews: Literal["lesson", "day"] = "lesson"
    """Whether squads are interviewed in their own lesson only, or at any time of the day."""
    key_source: Line = "five dice, rolled in front of the class"
    """Where the key of the draw comes from; published before it is known."""
