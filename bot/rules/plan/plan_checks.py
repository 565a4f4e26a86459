"""What must hold between the parts of a plan; each part is checked even where others are wrong."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from decimal import Decimal
from difflib import get_close_matches
from itertools import pairwise
from typing import Any, TypeVar
from zoneinfo import ZoneInfo, available_timezones

from pydantic import ValidationError

from bot.rules.calendar.calendar import evening_after, work_out
from bot.rules.calendar.instants import instant
from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.refusal import Refusal
from bot.rules.plan.day_plan_checks import day_problems
from bot.rules.plan.plan_problems import MOST_LISTED, Path, PlanProblem, tables
from bot.rules.plan.plan_shape_checks import MEASURES
from storage.records.base import Record
from storage.records.plan import (
    Calendar,
    Checklist,
    Count,
    Measure,
    Number,
    Plan,
    Practice,
    Rubric,
    Share,
    Squads,
    Time,
)

LONGEST_ZONE = 60
ANNOUNCED_WITHIN, LONGEST_PROTEST = 7, 14
"""Days after the deadline within which a result is announced, most likely; the most days that a plan gives protests."""
TRIMMED_FROM = 5
"""A trimmed mean drops the highest and the lowest sheet, which needs five judges."""
_AnyRecord = TypeVar("_AnyRecord", bound=Record)
_REFUSED_AT: dict[str, Path] = {
    "holidays_country": ("calendar", "holidays", "country"),
    "holidays_region": ("calendar", "holidays", "region"),
    "no_school_days": ("calendar", "weekend"),
    "deadline_closed": ("calendar", "days"),
}


def check_problems(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """Every broken rule between the parts of a plan, as far as those parts can be read at all."""
    yield from _zone(data)
    yield from _squads(data)
    yield from _sections(data)
    yield from _place_groups(data)
    yield from _keys(data)
    yield from _hand_in(data)
    yield from _present(data)
    for path, measure in _measures(data):
        yield from _scale(path, measure)
        yield from _kind(path, measure)
    yield from _tie_breaks(data)
    yield from _dates(data)
    yield from _practice(data)
    yield from day_problems(data)


def known_zone(name: object) -> bool:
    """Whether `name` is in the IANA time-zone database."""
    return isinstance(name, str) and name in available_timezones()


def score_names(events: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
    """All that a tie-break can name: `event`, `event.measure` and `event.measure.criterion`."""
    names = []
    for event in events:
        names.append(str(event.get("key")))
        for _, measure in tables(event, "measures"):
            names.append(f"{event.get('key')}.{measure.get('key')}")
            names += [f"{names[-1]}.{line.get('key')}" for _, line in tables(measure, "criteria")]
    return tuple(names)


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


def _squads(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    squads = _read(Squads, data.get("squads", {}))
    if squads and squads.smallest > squads.largest:
        yield PlanProblem(("squads", "smallest"), "squad_sizes", squads.smallest, {"largest": squads.largest})


def _sections(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    sections = data.get("sections")
    if isinstance(sections, list):
        names = [
            (("sections", place), name) for place, name in enumerate(sections[:MOST_LISTED]) if isinstance(name, str)
        ]
        yield from _repeated((path, " ".join(name.casefold().split()), name) for path, name in names)


def _place_groups(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """Each section competes in one group, and the places of the groups are those of the plan."""
    groups = list(tables(data, "place_groups"))
    sections = data.get("sections")
    if not groups or not isinstance(sections, list):
        return
    if not all(isinstance(group.get("sections"), list) for _, group in groups):
        return
    known = [name for name in sections[:MOST_LISTED] if isinstance(name, str)]
    seen: set[str] = set()
    for path, group in groups:
        for place, name in enumerate(group["sections"][:MOST_LISTED]):
            if isinstance(name, str) and name not in known:
                close = get_close_matches(name, known, n=1)
                fields = {"meant": close[0] if close else None, "known": tuple(known)}
                yield PlanProblem((*path, "sections", place), "group_section", name, fields)
            elif isinstance(name, str) and name in seen:
                yield PlanProblem((*path, "sections", place), "repeated", name)
            seen.add(str(name))
    if left := tuple(name for name in known if name not in seen):
        yield PlanProblem(("place_groups",), "group_left", None, {"left": left})
    each = [group.get("places", 1) for _, group in groups]
    said = data.get("places", 1)
    if all(type(one) is int for one in (*each, said)) and sum(each) != said:
        yield PlanProblem(("places",), "places_sum", said, {"sum": sum(each)})


def _keys(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """Keys that occur twice in one list."""
    for entries in _lists(data):
        yield from _repeated(((*path, "key"), entry["key"], entry["key"]) for path, entry in entries if "key" in entry)


def _lists(data: Mapping[str, Any]) -> Iterator[list[tuple[Path, Mapping[str, Any]]]]:
    """Each list whose entries have keys: events, the measures of each, the items or criteria of each of those."""
    events = list(tables(data, "events"))
    yield events
    for event_path, event in events:
        measures = list(tables(event, "measures", event_path))
        yield measures
        for path, measure in measures:
            yield list(tables(measure, "items", path))
            yield list(tables(measure, "lines", path))
            yield list(tables(measure, "criteria", path))


def _repeated(entries: Iterable[tuple[Path, Any, Any]]) -> Iterator[PlanProblem]:
    seen: set[str] = set()
    for path, key, shown in entries:
        if repr(key) in seen:
            yield PlanProblem(path, "repeated", shown)
        seen.add(repr(key))


def _hand_in(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """A hand-in belongs to an event that squads know of."""
    for path, event in tables(data, "events"):
        if event.get("hand_in") is True and event.get("surprise") is True:
            yield PlanProblem((*path, "hand_in"), "hand_in_secret", True)


def _present(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """A squad can have as many members as must be here."""
    squads = _read(Squads, data.get("squads", {}))
    for path, event in tables(data, "events"):
        least = event.get("least_present")
        if squads and type(least) is int and least > squads.largest:
            yield PlanProblem((*path, "least_present"), "least_present", least, {"largest": squads.largest})


def _measures(data: Mapping[str, Any]) -> Iterator[tuple[Path, Measure]]:
    """The measures that can be read, with their places."""
    for event_path, event in tables(data, "events"):
        for path, entry in tables(event, "measures", event_path):
            model = MEASURES.get(str(entry.get("kind")))
            measure = _read(model, entry) if model else None
            if measure is not None:
                yield path, measure


def _scale(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    if measure.scale == "maximum" and isinstance(measure, Count) and measure.maximum is None:
        yield PlanProblem((*path, "maximum"), "scale_maximum")
    if measure.scale == "between":
        ends = {"floor": measure.floor, "full": measure.full}
        yield from (PlanProblem((*path, end), "scale_between") for end, value in ends.items() if value is None)
        if measure.floor is not None and measure.floor == measure.full:
            yield PlanProblem((*path, "full"), "scale_ends_equal", measure.full)
    if isinstance(measure, Count | Number | Time):
        yield from _direction(path, measure)


def _direction(path: Path, measure: Count | Number | Time) -> Iterator[PlanProblem]:
    """Scales that would reward what the plan calls worse, or divide by nothing."""
    lower, floor, full = lower_is_better(measure), measure.floor, measure.full
    both = floor is not None and full is not None and floor != full
    if measure.scale == "between" and both and lower != (Decimal(floor or 0) > Decimal(full or 0)):
        kind = "time_ends" if isinstance(measure, Time) else "lower_ends" if lower else "higher_ends"
        yield PlanProblem((*path, "full"), kind, full, {"floor": floor})
    if isinstance(measure, Time):
        return
    lowest = measure.lowest if isinstance(measure, Number) else 0
    if measure.scale == "best" and lower and lowest <= 0:
        yield PlanProblem((*path, "scale"), "best_lower", measure.scale, {"lowest": lowest})
    elif measure.scale in ("best", "maximum") and lowest < 0:
        yield PlanProblem((*path, "scale"), "scale_negative", measure.scale, {"lowest": lowest})


def _points(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    """Points of 0, and lists in which nothing earns anything."""
    entries = {Count: "items", Checklist: "lines"}.get(type(measure))
    if entries is None:
        return
    points = [entry.points for entry in getattr(measure, entries)]
    for place in (place for place, one in enumerate(points) if one == 0):
        yield PlanProblem((*path, entries, place, "points"), "zero_points", 0)
    if all(one < 0 for one in points):
        yield PlanProblem((*path, entries), "only_penalties")


def _kind(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    yield from _points(path, measure)
    if isinstance(measure, Number):
        yield from _range(path, measure)
    if not isinstance(measure, Rubric | Share) and measure.keep == "mean-of-best-two" and measure.attempts < 2:
        yield PlanProblem((*path, "attempts"), "two_attempts", measure.attempts)
    if isinstance(measure, Rubric) and measure.panel == "trimmed":
        judges = measure.judges_per_squad
        if judges is not None and judges < TRIMMED_FROM:
            yield PlanProblem((*path, "judges_per_squad"), "trimmed_judges", judges, {"least": TRIMMED_FROM})


def _range(path: Path, measure: Number) -> Iterator[PlanProblem]:
    if measure.lowest >= measure.highest:
        yield PlanProblem((*path, "highest"), "range_ends", measure.highest, {"lowest": measure.lowest})
    for name in ("lowest", "highest"):
        end = getattr(measure, name)
        if end != round(end, measure.decimals):
            yield PlanProblem((*path, name), "range_decimals", end, {"decimals": measure.decimals})
    if measure.scale == "maximum" and measure.maximum is None and measure.highest <= 0:
        yield PlanProblem((*path, "maximum"), "scale_maximum")


def _tie_breaks(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    known = score_names(event for _, event in tables(data, "events"))
    tie_breaks = data.get("tie_breaks")
    for place, name in enumerate(tie_breaks[:MOST_LISTED] if isinstance(tie_breaks, list) else ()):
        if isinstance(name, str) and name not in known:
            close = get_close_matches(name, known, n=1)
            yield PlanProblem(
                ("tie_breaks", place), "tie_break", name, {"meant": close[0] if close else None, "known": known}
            )


def _dates(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    calendar = _read(Calendar, data.get("calendar"))
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
    if type(kept) is not int or type(protest) is not int or not 0 <= protest <= LONGEST_PROTEST:
        return
    announced = [deadline + timedelta(days=later) for later in range(ANNOUNCED_WITHIN + 1)]
    day = timedelta(days=1)
    least = max(-((at - evening_after(calendar, zone, at, protest)) // day) for at in announced)
    if 1 <= kept < least:
        yield PlanProblem(("retention_days",), "retention_short", kept, {"least": least})


def _practice(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    practice = _read(Practice, data.get("practice"))
    if practice is None:
        return
    begins = sorted(60 * one.hour + one.minute for one in practice.times)
    if any(later - earlier < practice.minutes for earlier, later in pairwise(begins)):
        yield PlanProblem(("practice", "times"), "practice_overlap", None, {"minutes": practice.minutes})
    if practice.until_day is not None and practice.until_day < practice.from_day:
        fields = {"from_day": practice.from_day}
        yield PlanProblem(("practice", "until_day"), "practice_days", practice.until_day, fields)
    calendar = _read(Calendar, data.get("calendar"))
    for name in ("from_day", "until_day"):
        day = getattr(practice, name)
        if calendar is not None and day is not None and day > calendar.days:
            yield PlanProblem(("practice", name), "day_after_window", day, {"days": calendar.days})


def _read(model: type[_AnyRecord], value: object) -> _AnyRecord | None:
    """A record, or None where the value is none: its own mistakes are told elsewhere."""
    try:
        return model.model_validate(value)
    except ValidationError:
        return None
