"""The template of an event that was typed in one line: its measure with numbers to begin with, and remarks."""

import tomllib
from collections.abc import Iterable
from decimal import Decimal

import tomli_w

from bot.rules.plan.typed_events import WEIGHTS, Asked
from storage.records.plan import Event

TO_WRITE = "Say what squads do, and how points are made."
"""What stands where a coach still has to write about an event."""


def to_events(asked: Iterable[Asked]) -> tuple[Event, ...]:
    """The events themselves, as the file that is written for them has them."""
    written = "\n".join(event_toml(one) for one in asked)
    found = tomllib.loads(written, parse_float=Decimal).get("events", [])
    return tuple(Event.model_validate(one) for one in found)


def event_toml(asked: Asked) -> str:
    """One event with its measure and remarks."""
    name = tomli_w.dumps({"name": asked.name}).strip()
    return (
        f"# {'-' * 100}\n\n[[events]]\n"
        f'key = "{asked.key}"\n{name}\nweight = {WEIGHTS[asked.kind]}                    # compared with the others\n'
        f"about = '''\n{TO_WRITE}\n'''\n"
        "cautions = [\"Clear, dry floor. Walk, no running.\"]\n\n"
        f"[[events.measures]]\nkind = \"{asked.kind}\"\nkey = \"main\"\n{name}\n{_measure(asked)}\n"
    )  # fmt: skip


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
