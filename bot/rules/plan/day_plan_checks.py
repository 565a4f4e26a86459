"""What must hold in the plan of the event days."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime, time
from difflib import get_close_matches
from typing import Any

from bot.rules.plan.plan_problems import MOST_LISTED, Path, PlanProblem, tables
from storage.records.plan_defaults import EVENT_DAY_BEGINS, EVENT_DAY_ENDS


def day_problems(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """Every broken rule in `event_day`, as far as it can be read."""
    day = data.get("event_day")
    if not isinstance(day, dict):
        return
    here: Path = ("event_day",)
    yield from _ends(here, day, {"begins": EVENT_DAY_BEGINS, "ends": EVENT_DAY_ENDS})
    lessons = list(tables(day, "lessons", here))
    for path, entry in (*lessons, *tables(day, "breaks", here)):
        yield from _ends(path, entry, {})
    yield from _dates(data, day, lessons)
    known = data.get("sections")
    if isinstance(known, list):
        names = [name for name in known[:MOST_LISTED] if isinstance(name, str)]
        for path, lesson in lessons:
            section = lesson.get("section")
            if isinstance(section, str) and section not in names:
                close = get_close_matches(section, names, n=1)
                fields = {"meant": close[0] if close else None, "known": tuple(names)}
                yield PlanProblem((*path, "section"), "group_section", section, fields)


def _ends(path: Path, entry: Mapping[str, Any], absent: Mapping[str, time]) -> Iterator[PlanProblem]:
    begins, ends = (entry.get(name, absent.get(name)) for name in ("begins", "ends"))
    if isinstance(begins, time) and isinstance(ends, time) and begins >= ends:
        yield PlanProblem((*path, "ends" if "ends" in entry else "begins"), "day_ends", ends, {"begins": begins})


def _dates(
    data: Mapping[str, Any], day: Mapping[str, Any], lessons: list[tuple[Path, Mapping[str, Any]]]
) -> Iterator[PlanProblem]:
    dates = day.get("dates", [])
    if not isinstance(dates, list):
        return
    calendar = data.get("calendar")
    brief = calendar.get("brief") if isinstance(calendar, dict) else None
    for place, on in enumerate(dates[:MOST_LISTED]):
        if on in dates[:place]:
            yield PlanProblem(("event_day", "dates", place), "repeated", on)
        elif isinstance(brief, datetime) and isinstance(on, date) and on < brief.date():
            yield PlanProblem(("event_day", "dates", place), "day_early", on)
    for path, lesson in lessons:
        on = lesson.get("date")
        if isinstance(on, date) and on not in dates:
            yield PlanProblem((*path, "date"), "day_date", on)
