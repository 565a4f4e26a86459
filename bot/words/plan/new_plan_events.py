"""The events of a plan that is made by answering questions: what may be typed, and what is written for each."""

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

import tomli_w

from bot.rules.core.parse_lists import read_list
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Event
from storage.records.plan_measures import Count, Number

TO_WRITE = "Say what squads do, and how points are made."
"""What stands where a coach still has to write about an event."""
EVENTS = "Run = count, Group piece = judges, Challenge = time"
"""What is proposed."""
MOST = 8
"""Events of one plan."""
KINDS = {"count": "count", "time": "time", "judges": "rubric", "judged": "rubric", "rubric": "rubric",
         "checklist": "checklist", "number": "number"}  # fmt: skip


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
        if kind is None or not name.strip() or len(name) > 60 or len(rest) != (1 if kind == "number" else 0):
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        if rest and len(rest[0]) > 12:
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        lower = len(rest) < len(words) - 1
        if lower and kind not in ("count", "number"):
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        found.append(Asked(part, _key(name, len(found) + 1), name.strip(), kind, "".join(rest), lower))
    if not 1 <= len(found) <= MOST or len({one.key for one in found}) < len(found):
        raise Refusal(Reason.TYPED_EVENTS, typed=typed)
    return tuple(found)


def typed_event(event: Event) -> str:
    """An event as it would be typed, by its first measure."""
    measure = event.measures[0]
    kind = next((word for word, kind in KINDS.items() if kind == measure.kind), "judges")
    unit = f" {measure.unit}" if isinstance(measure, Number) else ""
    lower = " lower" if isinstance(measure, Count | Number) and measure.better == "lower" else ""
    return f"{event.name} = {kind}{unit}{lower}"


def read_new_set(typed: str, present: Sequence[Event]) -> tuple[Event, ...]:
    """A new set of events; what stands as it would be typed of a present one is that event, with all it has.

    Raises Refusal: as `read_events`.
    """
    stand = {" ".join(typed_event(one).split()): one for one in present}
    parts = [part for line in typed.splitlines() for part in _parts(line, stand)]
    new = [part for part in parts if part not in stand]
    made = iter(to_events(read_events("\n".join(new)))) if new else iter(())
    found = [stand[part] if part in stand else next(made) for part in parts]
    if not 1 <= len(found) <= MOST or len({one.name.casefold() for one in found}) < len(found):
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
        free = (one.key, f"event-{number}", *(f"event-{other}" for other in range(MOST + 1, 3 * MOST)))
        key = next(key for key in free if key not in taken)
        taken.add(key)
        yield one.model_copy(update={"key": key})


def to_events(asked: Iterable[Asked]) -> tuple[Event, ...]:
    """The events themselves, as the file that is written for them has them."""
    written = "\n".join(event_toml(one) for one in asked)
    found = tomllib.loads(written, parse_float=Decimal).get("events", [])
    return tuple(Event.model_validate(one) for one in found)


def _key(name: str, number: int) -> str:
    plain = re.sub(r"[^a-z0-9]+", "-", name.strip().casefold()).strip("-")[:24].strip("-")
    return plain if re.match(r"[a-z]", plain) else f"event-{number}"


def event_toml(asked: Asked) -> str:
    """One event with its measure and remarks."""
    name = tomli_w.dumps({"name": asked.name}).strip()
    return (
        f"# {'-' * 100}\n\n[[events]]\n"
        f'key = "{asked.key}"\n{name}\nweight = {_WEIGHTS[asked.kind]}                    # compared with the others\n'
        f"about = '''\n{TO_WRITE}\n'''\n"
        "cautions = [\"Clear, dry floor. Walk, no running.\"]\n\n"
        f"[[events.measures]]\nkind = \"{asked.kind}\"\nkey = \"main\"\n{name}\n{_measure(asked)}\n"
    )  # fmt: skip


_WEIGHTS = {"count": 40, "time": 30, "rubric": 30, "checklist": 30, "number": 30}


def _measure(asked: Asked) -> str:
    if asked.lower:
        return _LOWER[asked.kind].format(unit=tomli_w.dumps({"unit": asked.unit}).strip())
    return _HIGHER[asked.kind].format(unit=tomli_w.dumps({"unit": asked.unit}).strip())


_LEVELS = """
levels = [
    "Not seen.",
    "Seen once.",
    "Seen most of the time.",
    "Seen all of the time.",
]
"""
_HIGHER = {
    "count": """\
items = [{{ key = "thing", name = "Thing", points = 10, most = 10 }}]  # most: how many there are
attempts = 2
keep = "best"                  # or "sum" or "mean-of-best-two"
maximum = 100                  # worth all points; more earns no more
""",
    "number": """\
{unit}
decimals = 1
highest = 100                  # anything above is refused as a slip
scale = "between"
floor = 0                      # worth no points
full = 100                     # worth all points
attempts = 1
""",
    "time": """\
limit = 300                    # seconds; after that the squad did not finish
fault_seconds = 5              # each fault adds so many
scale = "between"
floor = 300                    # worth no points
full = 60                      # worth all points
""",
    "checklist": """\
lines = [
    {{ key = "first", name = "The first thing is there", points = 1 }},
    {{ key = "second", name = "The second thing is there", points = 1 }},
]
""",
    "rubric": f"""\
panel = "mean"                 # or "median", "trimmed", "adjusted" (evens out mild and strict judges)

[[events.measures.criteria]]
key = "idea"
name = "One idea"{_LEVELS}
[[events.measures.criteria]]
key = "reasons"
name = "Reasons"{_LEVELS}""",
}
_LOWER = {
    "count": """\
better = "lower"               # each one costs
items = [{{ key = "mistake", name = "Mistake", points = 1 }}]
attempts = 1
scale = "between"
floor = 20                     # worth no points
full = 0                       # worth all points
""",
    "number": """\
{unit}
decimals = 1
highest = 100                  # anything above is refused as a slip
better = "lower"
scale = "between"
floor = 100                    # worth no points
full = 0                       # worth all points
attempts = 1
""",
}
