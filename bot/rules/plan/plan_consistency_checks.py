"""What must hold between the parts of a plan; each part is checked even where others are wrong."""

from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from typing import Any

from bot.rules.plan.calendar_checks import calendar_problems
from bot.rules.plan.day_plan_checks import day_problems
from bot.rules.plan.measure_checks import measure_problems
from bot.rules.plan.plan_problems import MOST_LISTED, Path, PlanProblem, read_part, tables
from storage.records.plan import (
    Squads,
)


def check_problems(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """Every broken rule between the parts of a plan, as far as those parts can be read at all."""
    yield from _squads(data)
    yield from _sections(data)
    yield from _place_groups(data)
    yield from _keys(data)
    yield from _hand_in(data)
    yield from _present(data)
    yield from measure_problems(data)
    yield from _tie_breaks(data)
    yield from calendar_problems(data)
    yield from day_problems(data)


def score_names(events: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
    """All that a tie-break can name: `event`, `event.measure` and `event.measure.criterion`."""
    names = []
    for event in events:
        names.append(str(event.get("key")))
        for _, measure in tables(event, "measures"):
            names.append(f"{event.get('key')}.{measure.get('key')}")
            names += [f"{names[-1]}.{line.get('key')}" for _, line in tables(measure, "criteria")]
    return tuple(names)


def _squads(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    squads = read_part(Squads, data.get("squads", {}))
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
    squads = read_part(Squads, data.get("squads", {}))
    for path, event in tables(data, "events"):
        least = event.get("least_present")
        if squads and type(least) is int and least > squads.largest:
            yield PlanProblem((*path, "least_present"), "least_present", least, {"largest": squads.largest})


def _tie_breaks(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    known = score_names(event for _, event in tables(data, "events"))
    tie_breaks = data.get("tie_breaks")
    for place, name in enumerate(tie_breaks[:MOST_LISTED] if isinstance(tie_breaks, list) else ()):
        if isinstance(name, str) and name not in known:
            close = get_close_matches(name, known, n=1)
            yield PlanProblem(
                ("tie_breaks", place), "tie_break", name, {"meant": close[0] if close else None, "known": known}
            )
