"""A new set of events takes the place of those of the plan: when it may, how it is typed, and what it brings along.

Each event is typed in a line such as `Bridge = number kg lower`. A new set brings along the order in which squads with
equal totals are parted, and whether there is a practice table.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import time

from bot.rules.core.parse_typed import read_list
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records import plan_limits as limits
from storage.records.plan import Event, Practice
from storage.records.plan_measures import Count, Number
from storage.records.tryout import BEFORE_BRIEF, State

KINDS = {"count": "count", "time": "time", "judges": "rubric", "judged": "rubric", "rubric": "rubric",
         "checklist": "checklist", "number": "number"}  # fmt: skip
"""What may be typed, and the kind of measure that is meant."""
LONGEST_NAME = 60


def may_be_made(state: State) -> bool:
    """What is measured stays once the brief is out."""
    return state in BEFORE_BRIEF


def check_may_be_made(state: State) -> None:
    """As `may_be_made`. Raises Refusal `structure_fixed`."""
    if not may_be_made(state):
        raise Refusal(Reason.STRUCTURE_FIXED)


def tie_breaks(events: Sequence[Event], before: Sequence[str]) -> tuple[str, ...]:
    """Squads with equal totals are parted by these events, one after another.

    First those that parted them `before`, in that order, as far as they are still there; then the others, as typed.
    """
    keys = [event.key for event in events]
    order = [key for key in before if key in keys]
    return (*order, *(key for key in keys if key not in order))


def practice_table(times: tuple[time, ...], before: Practice | None) -> Practice | None:
    """The practice table with these times of turns and all else as before; without times there is none."""
    if not times:
        return None
    return before.model_copy(update={"times": times}) if before else Practice(times=times)


@dataclass(frozen=True)
class Asked:
    """One event as it was asked for."""

    typed: str
    key: str
    name: str
    kind: str
    unit: str = ""
    lower: bool = False


def read_events(typed: str) -> tuple[Asked, ...]:
    """Events such as `Bridge = number kg lower, Poster = judges`.

    Raises Refusal: `typed_event` (typed), `typed_events` (typed) for none, too many, or two of one name.
    """
    found: list[Asked] = []
    for part in read_list(typed):
        name, _, how = part.rpartition("=")
        words = how.split()
        kind = KINDS.get(words[0].casefold()) if words else None
        rest = [word for word in words[1:] if word.casefold() != "lower"]
        if kind is None or not name.strip() or len(name) > LONGEST_NAME or len(rest) != (1 if kind == "number" else 0):
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        if rest and len(rest[0]) > limits.UNIT_LETTERS:
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        lower = len(rest) < len(words) - 1
        if lower and kind not in ("count", "number"):
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        found.append(Asked(part, _key(name, len(found) + 1), name.strip(), kind, "".join(rest), lower))
    if not 1 <= len(found) <= limits.EVENTS.most or len({one.key for one in found}) < len(found):
        raise Refusal(Reason.TYPED_EVENTS, typed=typed)
    return tuple(found)


def typed_event(event: Event) -> str:
    """An event as it would be typed, by its first measure."""
    measure = event.measures[0]
    kind = next((word for word, kind in KINDS.items() if kind == measure.kind), "judges")
    unit = f" {measure.unit}" if isinstance(measure, Number) else ""
    lower = " lower" if isinstance(measure, Count | Number) and measure.better == "lower" else ""
    return f"{event.name} = {kind}{unit}{lower}"


def _key(name: str, number: int) -> str:
    plain = re.sub(r"[^a-z0-9]+", "-", name.strip().casefold()).strip("-")[: limits.KEY_LETTERS].strip("-")
    return plain if re.match(r"[a-z]", plain) else f"event-{number}"


def read_new_set(
    typed: str, present: Sequence[Event], make: Callable[[Sequence[Asked]], tuple[Event, ...]]
) -> tuple[Event, ...]:
    """A new set of events; what stands as it would be typed of a present one is that event, with all it has.

    `make` makes the others, which have what the template of an event has. Raises Refusal: as `read_events`.
    """
    stand = {" ".join(typed_event(one).split()): one for one in present}
    parts = [part for line in typed.splitlines() for part in _parts(line, stand)]
    new = [part for part in parts if part not in stand]
    made = iter(make(read_events("\n".join(new)))) if new else iter(())
    found = [stand[part] if part in stand else next(made) for part in parts]
    if not 1 <= len(found) <= limits.EVENTS.most or len({one.name.casefold() for one in found}) < len(found):
        raise Refusal(Reason.TYPED_EVENTS, typed=typed)
    return tuple(_unlike(found, stand))


def _parts(line: str, stand: Mapping[str, Event]) -> tuple[str, ...]:
    """The events of a line; a present one may have a comma in its name."""
    whole = " ".join(line.split())
    return (whole,) if whole in stand else read_list(line)


def _unlike(found: Sequence[Event], stand: Mapping[str, Event]) -> Iterator[Event]:
    """With keys of which no two are the same; a present event keeps its own."""
    taken = {one.key for one in found if one in stand.values()}
    for number, one in enumerate(found, start=1):
        if one in stand.values():
            yield one
            continue
        most = limits.EVENTS.most
        free = (one.key, f"event-{number}", *(f"event-{other}" for other in range(most + 1, 3 * most)))
        key = next(key for key in free if key not in taken)
        taken.add(key)
        yield one.model_copy(update={"key": key})
