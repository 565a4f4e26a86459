"""A small plan for tests: one event, and a calendar to vary, with its instants as they are written."""

from datetime import UTC, datetime
from decimal import Decimal

from storage.records.plan import Calendar, Event, Plan
from storage.records.plan_measures import Count, Item

BRIEF = datetime.fromisoformat("2026-10-26T15:30")


def calendar(**changes: object) -> Calendar:
    """A calendar of ten calendar days that begins on Monday 26 October 2026 at 15:30, with changes."""
    return Calendar.model_validate({"brief": BRIEF, "counting": "calendar", **changes})


def plan(zone: str = "America/New_York", **changes: object) -> Plan:
    """A plan with one counted event and `calendar(**changes)`."""
    run = Count(key="run", name="Run", items=(Item(key="sock", name="Sock"),), maximum=Decimal(100))
    return Plan(
        name="Robot club",
        zone=zone,
        sections=("7 Ash", "7 Birch"),
        brief="Build a robot.",
        calendar=calendar(**changes),
        events=(Event(key="sock-run", name="Sock run", weight=Decimal(1), measures=(run,)),),
    )


def utc(text: str) -> datetime:
    """An instant as in 2026-10-26T19:30 (UTC)."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC)
