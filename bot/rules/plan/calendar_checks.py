"""What must hold between the dates of a plan: zone, window, sign-up, judging, practice turns, how long names stay."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta
from difflib import get_close_matches
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from bot.rules.calendar.calendar import work_out
from bot.rules.calendar.evening_of_school_day import evening_after
from bot.rules.calendar.local_time import instant
from bot.rules.core.refusal import Refusal
from bot.rules.plan.plan_problems import Path, PlanProblem, read_part
from storage.records.plan import (
    Calendar,
    Plan,
    Practice,
)
from storage.records.plan_limits import PROTEST_DAYS, RETENTION_DAYS, YEARS

ANNOUNCED_WITHIN = 7
"""Days after the deadline within which a result is announced, most likely."""
_REFUSED_AT: dict[str, Path] = {
    "holidays_country": ("calendar", "holidays", "country"),
    "holidays_region": ("calendar", "holidays", "region"),
    "no_school_days": ("calendar", "weekend"),
    "deadline_closed": ("calendar", "days"),
}


def calendar_problems(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """Every broken rule between the dates, as far as they can be read."""
    yield from _zone(data)
    years = list(_years(data))
    yield from years or _dates(data)
    yield from _practice(data)


def _years(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """Dates from which days cannot be counted, or that nobody means."""
    found: list[tuple[Path, object]] = []
    calendar, day = data.get("calendar"), data.get("event_day")
    if isinstance(calendar, dict):
        found += [(("calendar", name), calendar.get(name)) for name in ("brief", "signup_closes", "judging_closes")]
        found += _listed(("calendar", "closed"), calendar.get("closed"))
    if isinstance(day, dict):
        found += _listed(("event_day", "dates"), day.get("dates"))
    for path, one in found:
        if isinstance(one, date) and not YEARS.least <= one.year <= YEARS.most:
            yield PlanProblem(path, "year", one, {"least": YEARS.least, "most": YEARS.most})


def _listed(path: Path, value: object) -> list[tuple[Path, object]]:
    return [((*path, place), one) for place, one in enumerate(value)] if isinstance(value, list | tuple) else []


def _dates(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    calendar = read_part(Calendar, data.get("calendar"))
    if calendar is None:
        return
    for number in calendar.remind_at_on:
        if number > calendar.days:
            yield PlanProblem(
                ("calendar", "remind_at_on", str(number)), "day_after_window", number, {"days": calendar.days}
            )
    if not known_zone(data.get("zone")):
        return
    zone = ZoneInfo(data["zone"])
    try:
        found = work_out(calendar, zone)
    except Refusal as refusal:
        yield PlanProblem(_REFUSED_AT[refusal.reason], refusal.reason, None, refusal.fields)
        return
    deadline = found.deadline.astimezone(zone)
    if calendar.signup_closes and instant(calendar.signup_closes, zone) > found.deadline:
        yield PlanProblem(("calendar", "signup_closes"), "signup_late", calendar.signup_closes, {"deadline": deadline})
    if calendar.judging_closes and instant(calendar.judging_closes, zone) <= found.deadline:
        yield PlanProblem(
            ("calendar", "judging_closes"), "judging_early", calendar.judging_closes, {"deadline": deadline}
        )
    yield from _retention(data, calendar, zone, found.deadline)


def _retention(
    data: Mapping[str, Any], calendar: Calendar, zone: ZoneInfo, deadline: datetime
) -> Iterator[PlanProblem]:
    """Names are there while a result that is announced within a week of the deadline can be protested."""
    kept, protest = (data.get(name, Plan.model_fields[name].default) for name in ("retention_days", "protest_days"))
    if type(kept) is not int or type(protest) is not int or not PROTEST_DAYS.least <= protest <= PROTEST_DAYS.most:
        return
    announced = [deadline + timedelta(days=later) for later in range(ANNOUNCED_WITHIN + 1)]
    day = timedelta(days=1)
    least = max(-((at - evening_after(calendar, zone, at, protest)) // day) for at in announced)
    if RETENTION_DAYS.least <= kept < least:
        yield PlanProblem(("retention_days",), "retention_short", kept, {"least": least})


def _practice(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    practice = read_part(Practice, data.get("practice"))
    if practice is None:
        return
    begins = sorted(60 * one.hour + one.minute for one in practice.times)
    if any(later - earlier < practice.minutes for earlier, later in pairwise(begins)):
        yield PlanProblem(("practice", "times"), "practice_overlap", None, {"minutes": practice.minutes})
    if practice.until_day is not None and practice.until_day < practice.from_day:
        fields = {"from_day": practice.from_day}
        yield PlanProblem(("practice", "until_day"), "practice_days", practice.until_day, fields)
    calendar = read_part(Calendar, data.get("calendar"))
    for name in ("from_day", "until_day"):
        day = getattr(practice, name)
        if calendar is not None and day is not None and day > calendar.days:
            yield PlanProblem(("practice", name), "day_after_window", day, {"days": calendar.days})


LONGEST_ZONE = 60


def known_zone(name: object) -> bool:
    """Whether `name` is in the IANA time-zone database."""
    return isinstance(name, str) and name in available_timezones()


def _zone(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    zone = data.get("zone")
    if isinstance(zone, str) and not known_zone(zone):
        zones = sorted(available_timezones())
        cities = {name.rpartition("/")[2].casefold(): name for name in zones}
        typed = zone.strip().replace(" ", "_")
        if len(typed) > LONGEST_ZONE:
            typed = ""
        close = get_close_matches(typed, zones, n=1, cutoff=0.8)
        close += [
            cities[city] for city in get_close_matches(typed.rpartition("/")[2].casefold(), cities, n=1, cutoff=0.8)
        ]
        yield PlanProblem(("zone",), "zone", zone, {"meant": close[0] if close else None})
