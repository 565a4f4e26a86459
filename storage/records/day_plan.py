"""The event days as the coach plans them: dates, lessons, tables, and how long a run and an interview take."""

from datetime import date as local_date
from datetime import time
from typing import Literal

from pydantic import Field

from storage.records import plan_defaults as defaults
from storage.records import plan_limits as limits
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

    dates: tuple[local_date, ...] = Field((), max_length=limits.MOST_EVENT_DAYS)
    """The first school day after the deadline when absent."""
    begins: time = defaults.EVENT_DAY_BEGINS
    """When the day begins and ends for squads whose section has no lesson of its own."""
    ends: time = defaults.EVENT_DAY_ENDS
    lessons: tuple[Lesson, ...] = Field((), max_length=limits.MOST_LESSONS)
    breaks: tuple[Break, ...] = Field((), max_length=limits.MOST_BREAKS)
    tables: int = Field(defaults.TABLES, ge=limits.TABLES.least, le=limits.TABLES.most)
    """Runs that can go on at the same time."""
    run_minutes: int = Field(defaults.RUN_MINUTES, ge=limits.RUN_MINUTES.least, le=limits.RUN_MINUTES.most)
    """One run with setting up and clearing away."""
    interview_minutes: int = Field(
        defaults.INTERVIEW_MINUTES, ge=limits.INTERVIEW_MINUTES.least, le=limits.INTERVIEW_MINUTES.most
    )
    """0 where squads are not interviewed."""
    change_minutes: int = Field(defaults.CHANGE_MINUTES, ge=limits.CHANGE_MINUTES.least, le=limits.CHANGE_MINUTES.most)
    """What judges need between two interviews."""
    interviews: Literal["lesson", "day"] = defaults.INTERVIEWS
    """Whether squads are interviewed in their own lesson only, or at any time of the day."""
    key_source: Line = defaults.KEY_SOURCE
    """Where the key of the draw comes from; published before it is known."""
