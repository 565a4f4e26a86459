"""Lines of keys in a TOML file, which the standard reader does not tell."""

import tomllib
from typing import Any

from hypothesis import given, settings

from bot.rules.plan.plan_line_numbers import key_lines, line_of
from bot.rules.plan.read_plan import write_plan
from storage.records.plan import Plan
from tests.rules.plan_strategies import plans

TOML = '''\
# key = "in a comment"
"quoted" = 1 # [not.a.table]
text = """
[[events]]
key = 1
"""
other = \'\'\'
key = 2\'\'\'
list = [
    1,
    "]", # a bracket in a text
]
a.b = 3

[calendar]
brief = 2026-10-12T15:30:00
inline = { x = 1, y = [2] }

[ calendar . deep ]
x = 1

[[events]]
key = "one"
[[events.measures]]
key = "two"
[[events.measures]]
[events.measures.table]
x = 1
[[events]]
[[events.measures]]
key = "three"
'''


def test_each_key_has_the_line_it_stands_in() -> None:
    assert tomllib.loads(TOML)["calendar"]["deep"] == {"x": 1}
    assert key_lines(TOML) == {
        ("quoted",): 2,
        ("text",): 3,
        ("other",): 7,
        ("list",): 9,
        ("a", "b"): 13,
        ("calendar",): 15,
        ("calendar", "brief"): 16,
        ("calendar", "inline"): 17,
        ("calendar", "deep"): 19,
        ("calendar", "deep", "x"): 20,
        ("events",): 22,
        ("events", 0): 22,
        ("events", 0, "key"): 23,
        ("events", 0, "measures"): 24,
        ("events", 0, "measures", 0): 24,
        ("events", 0, "measures", 0, "key"): 25,
        ("events", 0, "measures", 1): 26,
        ("events", 0, "measures", 1, "table"): 27,
        ("events", 0, "measures", 1, "table", "x"): 28,
        ("events", 1): 29,
        ("events", 1, "measures"): 30,
        ("events", 1, "measures", 0): 30,
        ("events", 1, "measures", 0, "key"): 31,
    }


def test_what_has_no_line_has_that_of_what_it_stands_in() -> None:
    lines = key_lines(TOML)
    assert line_of(("calendar", "inline", "y", 0), lines) == 17
    assert line_of(("events", 1, "weight"), lines) == 29
    assert line_of(("nowhere",), lines) is None


@given(plans())
@settings(max_examples=30, deadline=None)
def test_every_line_found_in_a_written_plan_holds_its_key(of_plan: Plan) -> None:
    toml = write_plan(of_plan)
    data: Any = tomllib.loads(toml)
    text = toml.split("\n")
    found = key_lines(toml)
    for path, number in found.items():
        names = [part for part in path if isinstance(part, str)]
        assert names[-1] in text[number - 1]
        value = data
        for part in path:
            value = value[part]  # a path that is not in the data would raise here
    assert {("events", e, "weight") for e in range(len(of_plan.events))} <= found.keys()
