"""The made-up class of a room: how many squads and judges it has, and on which day before the brief its room opens."""

from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast.people import Cast, invent_cast
from deploy.rehearsal.season.season_settings import Script
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.platform_faults import FaultInjection

VISITOR = "Robin T"
"""Somebody on the class server who has nothing to do with the try-out."""
SQUADS, JUDGES = 6, 3
"""Few, so that a day passes in a moment; of squads at least one for each section."""
DAYS_BEFORE_BRIEF = 7
OPENS = time(7, 30)
"""On that day, in the zone of the plan."""


def small_class(whole: Script) -> Script:
    """The same season with few squads and judges."""
    return replace(whole, squads=max(SQUADS, len(whole.sections)), judges=JUDGES)


def opens_at(played: Script) -> datetime:
    """The instant at which a fresh room opens."""
    day = played.brief.date() - timedelta(days=DAYS_BEFORE_BRIEF)
    return datetime.combine(day, OPENS, ZoneInfo(played.zone)).astimezone(UTC)


def people_of(played: Script, began: datetime) -> tuple[ClassServer, Cast]:
    """The class server, empty as it is at an instant, and whoever will be on it."""
    cast = invent_cast(
        Random(played.seed), played.sections, played.smallest, played.largest, played.squads, played.judges
    )
    return ClassServer(began, faults=FaultInjection(played.seed, ())), cast
