"""The shape of a plan: is every key known, there, of the right kind and within its bounds?"""

import re
from collections.abc import Iterator, Mapping
from datetime import date, datetime, time
from decimal import Decimal
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from bot.rules.plan.misnamed_plan_keys import MEANT
from bot.rules.plan.plan_problems import Path, PlanProblem
from storage.records.day_plan import Break, DayPlan, Lesson
from storage.records.plan import Calendar, Equipment, Event, Holidays, PlaceGroup, Plan, Practice, Squads
from storage.records.plan_measures import Check, Checklist, Count, Criterion, Item, Measure, Number, Rubric, Share, Time
from storage.records.plan_value_types import ONE_LINE, SEVERAL_LINES

MEASURES: dict[str, type[Measure]] = {
    "count": Count,
    "number": Number,
    "time": Time,
    "checklist": Checklist,
    "rubric": Rubric,
    "share": Share,
}
TABLES: dict[tuple[str, ...], type[BaseModel]] = {
    (): Plan,
    ("squads",): Squads,
    ("calendar",): Calendar,
    ("calendar", "holidays"): Holidays,
    ("practice",): Practice,
    ("event_day",): DayPlan,
    ("event_day", "lessons"): Lesson,
    ("event_day", "breaks"): Break,
    ("place_groups",): PlaceGroup,
    ("events",): Event,
    ("events", "equipment"): Equipment,
    ("events", "measures", "items"): Item,
    ("events", "measures", "lines"): Check,
    ("events", "measures", "criteria"): Criterion,
}
MOST_READ = 1000
"""Mistakes that are looked at; a file with more is no plan."""
_MOMENTS = {("calendar", "brief"), ("calendar", "signup_closes"), ("calendar", "judging_closes")}
_DAYS = ("calendar", "remind_at_on")
_TURNS = ("practice", "times")
_TIMES = {
    ("calendar", "remind_at"), ("calendar", "quiet_from"), ("calendar", "quiet_until"), _TURNS,
    *((*path, end) for path in (("event_day",), ("event_day", "lessons"), ("event_day", "breaks"))
      for end in ("begins", "ends")),
}  # fmt: skip
_DATES = {("calendar", "closed"), ("event_day", "dates"), ("event_day", "lessons", "date")}
_HOUR = re.compile(r"([01]\d|2[0-3]):[0-5]\d")
"""A time of day in quotation marks, as people also write it in a list."""
_YES_OR_NO = {("surprise",), ("hand_in",)}
_KINDS = {
    "missing": "missing",
    "string_type": "not_text",
    "string_pattern_mismatch": "form",
    "string_too_short": "empty",
    "string_too_long": "too_long",
    "int_type": "not_whole",
    "int_parsing": "not_whole",
    "int_from_float": "not_whole",
    "decimal_type": "not_number",
    "decimal_parsing": "not_number",
    "finite_number": "not_number",
    "decimal_max_places": "too_fine",
    "decimal_max_digits": "too_fine",
    "decimal_whole_digits": "too_fine",
    "greater_than": "too_small",
    "greater_than_equal": "too_small",
    "less_than_equal": "too_large",
    "bool_type": "not_yes_no",
    "bool_parsing": "not_yes_no",
    "tuple_type": "not_list",
    "too_short": "too_few",
    "too_long": "too_many",
    "dict_type": "not_table",
    "model_type": "not_table",
    "model_attributes_type": "not_table",
    "literal_error": "choice",
}
"""From the validator's kinds of error to ours; those that are not here are told in the validator's own words."""
_BOUNDS = {
    "min_length": "least",
    "max_length": "most",
    "ge": "least",
    "le": "most",
    "gt": "above",
}


def shape_problems(data: Mapping[str, Any]) -> list[PlanProblem]:
    """Every mistake in the shape of a plan that was read from TOML."""
    typed = list(_mistyped(data, ()))
    seen = {problem.path for problem in typed}
    try:
        Plan.model_validate(data)
    except ValidationError as error:
        found = [_problem(details, data) for details in error.errors(include_url=False)[:MOST_READ]]
        strange = {problem.path for problem in found if problem.kind in ("unknown", "misplaced")}
        seen -= strange
        typed = [problem for problem in typed if problem.path not in strange]
        typed += [problem for problem in found if problem.path not in seen and not _follows(problem)]
    return _without_misspelt(typed)


def names_only(path: Path) -> tuple[str, ...]:
    """A path without its places in lists."""
    return tuple(part for part in path if isinstance(part, str))


def _mistyped(value: object, path: Path) -> Iterator[PlanProblem]:
    """Values that the validator would take for something else: yes/no for 1, a number for a time, an offset."""
    where = names_only(path)
    one = where in _MOMENTS or (where in _TIMES and where != _TURNS)
    if where == _DAYS and not isinstance(value, dict):
        return  # told as no table
    if isinstance(value, dict) and not one:
        for key, entry in value.items():
            yield from _mistyped(entry, (*path, key))
    elif isinstance(value, list) and not one:
        for place, entry in enumerate(value):
            yield from _mistyped(entry, (*path, place))
    elif where in _MOMENTS:
        if not isinstance(value, datetime) or value.tzinfo is not None:
            yield PlanProblem(path, "offset" if isinstance(value, datetime) else "not_moment", value)
    elif where in _TIMES or where[:2] == ("calendar", "remind_at_on"):
        if not isinstance(value, time) and not (where == _TURNS and _HOUR.fullmatch(str(value))):
            yield PlanProblem(path, "not_time", value)
    elif where in _DATES:
        if isinstance(value, datetime) or not isinstance(value, date):
            yield PlanProblem(path, "not_date", value)
    elif isinstance(value, bool) and where[-1:] not in _YES_OR_NO:
        yield PlanProblem(path, "yes_no", value)


def _problem(details: ErrorDetails, data: Mapping[str, Any]) -> PlanProblem:
    path, context = _path(details["loc"]), details.get("ctx", {})
    found, fields = details["input"], {ours: context[theirs] for theirs, ours in _BOUNDS.items() if theirs in context}
    kind = details["type"]
    if kind == "extra_forbidden":
        known = _known_keys(path[:-1], data)
        key = str(path[-1])
        if len(path) > 1 and key in Plan.model_fields and key not in known:
            return PlanProblem(path, "misplaced", found)
        close = [*(one for one in MEANT.get(key.casefold().replace("-", "_"), ()) if one in known)]
        close += get_close_matches(key, known, n=1)
        return PlanProblem(path, "unknown", found, {"meant": close[0] if close else None, "known": known})
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        tag = found.get("kind") if isinstance(found, dict) else None
        return PlanProblem((*path, "kind"), "missing" if tag is None else "choice", tag, {"allowed": tuple(MEASURES)})
    if details["loc"][-1] == "[key]":
        return PlanProblem(path, "day_number", path[-1])
    if kind == "missing":
        return PlanProblem(path, "missing")
    if context.get("pattern") in (ONE_LINE, SEVERAL_LINES):
        return PlanProblem(path, "control", found)
    if kind == "literal_error":
        fields["allowed"] = tuple(re.findall(r"'([^']*)'", str(context["expected"])))
    if kind in ("string_too_long", "too_long", "too_short") and isinstance(found, str | list):
        fields["length"] = len(found)
    if kind not in _KINDS:
        fields["message"] = details["msg"]
    return PlanProblem(path, _KINDS.get(kind, "wrong"), found, fields)


def _path(location: tuple[int | str, ...]) -> Path:
    """The validator's location without what stands in no file: the kind of a measure, and the mark of a table's key."""
    return tuple(
        part
        for place, part in enumerate(location)
        if part != "[key]" and not (part in MEASURES and location[place - 2 : place - 1] == ("measures",))
    )


def _known_keys(path: Path, data: Mapping[str, Any]) -> tuple[str, ...]:
    where = names_only(path)
    if where == ("events", "measures"):
        table: Any = data
        for part in path:
            table = table[part]
        return tuple(MEASURES[table["kind"]].model_fields)
    return tuple(TABLES[where].model_fields)


def _follows(problem: PlanProblem) -> bool:
    """Whether a list only seems too short because the entries in it are wrong themselves."""
    least = problem.fields.get("least")
    return (
        problem.kind == "too_few"
        and isinstance(problem.found, list)
        and isinstance(least, int | Decimal)
        and len(problem.found) >= least
    )


def _without_misspelt(problems: list[PlanProblem]) -> list[PlanProblem]:
    """Without the keys that are missing only because they are there misspelt."""
    meant = {(*p.path[:-1], p.fields["meant"]) for p in problems if p.kind == "unknown"}
    return [problem for problem in problems if problem.kind != "missing" or problem.path not in meant]
