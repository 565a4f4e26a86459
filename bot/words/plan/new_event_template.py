"""What a new event, typed in one line, begins with: text, safety line, measure, and remarks on the numbers."""

import tomllib
from collections.abc import Iterable
from decimal import Decimal

import tomli_w

from bot.rules.plan.new_event_defaults import WEIGHTS, of_measure
from bot.rules.plan.new_set_of_events import Asked
from storage.records.plan import Event

TO_WRITE = "Say what squads do, and how points are made."
"""What stands where a coach still has to write about an event."""
CAUTION = "Clear, dry floor. Walk, no running."
"""The safety line of a new event."""


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
        f'cautions = ["{CAUTION}"]\n\n'
        f"[[events.measures]]\nkind = \"{asked.kind}\"\nkey = \"main\"\n{name}\n{_measure(asked)}\n"
    )  # fmt: skip


def _measure(asked: Asked) -> str:
    template = (_LOWER if asked.lower else _HIGHER)[asked.kind]
    unit = tomli_w.dumps({"unit": asked.unit}).strip()
    return template.format(unit=unit, levels=_LEVELS, **of_measure(asked.kind, asked.lower))


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
items = [{{ key = "thing", name = "Thing", points = {points}, most = {most} }}]  # most: how many there are
attempts = {attempts}
keep = "{keep}"                  # or "sum" or "mean-of-best-two"
maximum = {maximum}                  # worth all points; more earns no more
""",
    "number": """\
{unit}
decimals = {decimals}
highest = {highest}                  # anything above is refused as a slip
scale = "between"
floor = {floor}                      # worth no points
full = {full}                     # worth all points
attempts = {attempts}
""",
    "time": """\
limit = {limit}                    # seconds; after that the squad did not finish
fault_seconds = {fault_seconds}              # each fault adds so many
scale = "between"
floor = {floor}                    # worth no points
full = {full}                      # worth all points
""",
    "checklist": """\
lines = [
    {{ key = "first", name = "The first thing is there", points = {points} }},
    {{ key = "second", name = "The second thing is there", points = {points} }},
]
""",
    "rubric": """\
panel = "{panel}"                 # or "median", "trimmed", "adjusted" (evens out mild and strict judges)

[[events.measures.criteria]]
key = "idea"
name = "One idea"{levels}
[[events.measures.criteria]]
key = "reasons"
name = "Reasons"{levels}""",
}
_LOWER = {
    "count": """\
better = "lower"               # each one costs
items = [{{ key = "mistake", name = "Mistake", points = {points} }}]
attempts = {attempts}
scale = "between"
floor = {floor}                     # worth no points
full = {full}                       # worth all points
""",
    "number": """\
{unit}
decimals = {decimals}
highest = {highest}                  # anything above is refused as a slip
better = "lower"
scale = "between"
floor = {floor}                    # worth no points
full = {full}                       # worth all points
attempts = {attempts}
""",
}
