"""When reminders should come by the plan, worked out apart from the bot, and when they did come."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from deploy.rehearsal.server.request_log import percentile
from deploy.rehearsal.wire.rendering import Shown
from deploy.rehearsal.world.state import World

DAILY = re.compile(r"\*\*Day (\d+) of (\d+)\.\*\*")
LAST = "**The last hour"
LATE = "this comes late"
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


@dataclass(frozen=True)
class Reminders:
    """How many reminders the plan asks for, and what became of them in the news room."""

    planned: int
    sent: int
    skipped: int
    doubled_what: list[str]
    late_s_p99: float | None

    def as_json(self) -> dict[str, Any]:
        """The counts as `season.json` carries them."""
        return {
            "planned": self.planned,
            "sent": self.sent,
            "skipped": self.skipped,
            "doubled": len(self.doubled_what),
            "doubled_what": self.doubled_what,
            "late_s_p99": self.late_s_p99,
        }


def planned_reminders(plan: bytes) -> dict[str, datetime]:
    """The moments by name, `day 3` or `last 1`, of a plan file; those moved by quiet hours are not told apart."""
    table = tomllib.loads(plan.decode())
    calendar, zone = table["calendar"], ZoneInfo(table["zone"])
    opened: datetime = calendar["brief"]
    days = list(_window(calendar, opened.date()))
    usual: time = calendar.get("remind_at", time(16))
    special = {int(day): at for day, at in calendar.get("remind_at_on", {}).items()}
    found = {}
    deadline = datetime.combine(days[-1], opened.time(), zone)
    for number, day in enumerate(days, start=1):
        moment = datetime.combine(day, special.get(number, usual), zone)
        if moment < deadline:
            found[f"day {number}"] = moment.astimezone(UTC)
    for hours in calendar.get("last_day_hours", [3, 1]):
        found[f"last {hours}"] = deadline.astimezone(UTC) - timedelta(hours=int(hours))
    return found


def _window(calendar: dict[str, Any], first: date) -> Iterator[date]:
    closed = set(calendar.get("closed", []))
    weekend = {_DAYS.index(day) for day in calendar.get("weekend", ["saturday", "sunday"])}
    closed |= _public_holidays(calendar, first)
    school = calendar.get("counting", "calendar") == "school"

    def is_open(day: date) -> bool:
        return day.weekday() not in weekend and day not in closed

    day, left = first, int(calendar.get("days", 10))
    while school and not is_open(day):
        day += timedelta(days=1)
    while left:
        day += timedelta(days=1)
        if not school or is_open(day):
            left -= 1
            yield day
    while not is_open(day):
        day += timedelta(days=1)
        yield day


def _public_holidays(calendar: dict[str, Any], first: date) -> set[date]:
    named = calendar.get("holidays")
    if not named:
        return set()
    import holidays

    found = holidays.country_holidays(named["country"], subdiv=named.get("region"), years=[first.year, first.year + 1])
    return set(found)


def seen_reminders(world: World, news: list[Shown], planned: dict[str, datetime]) -> Reminders:
    """Compare the reminders in the news room with those that were planned."""
    came: dict[str, list[datetime]] = {}
    last = [name for name in planned if name.startswith("last")]
    for shown in news:
        message = world.message(shown.message_id)
        if message is None:
            continue
        day = DAILY.search(shown.text)
        if day and LATE in shown.text:
            # It stands for the last of those that were missed, and tells the day on which it comes.
            due = [name for name in planned if name.startswith("day") and planned[name] <= message.created]
            came.setdefault(max(due, key=planned.__getitem__, default=f"day {day[1]}"), []).append(message.created)
        elif day:
            came.setdefault(f"day {day[1]}", []).append(message.created)
        elif LAST in shown.text:
            # None comes before its time, and none when the next one's time has come.
            due = [name for name in last if planned[name] <= message.created]
            if due:
                came.setdefault(max(due, key=planned.__getitem__), []).append(message.created)
    late = [max(0.0, (moments[0] - planned[name]).total_seconds()) for name, moments in came.items() if name in planned]
    return Reminders(
        planned=len(planned),
        sent=sum(1 for name in planned if name in came),
        skipped=sum(1 for name in planned if name not in came),
        doubled_what=[
            f"{name} at {', '.join(f'{moment:%d %H:%M:%S}' for moment in moments)}"
            for name, moments in came.items()
            if len(moments) > 1
        ],
        late_s_p99=percentile(late, 99),
    )
