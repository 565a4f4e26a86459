"""A right plan as a file, and ways to spoil it."""

GOOD = """\
name = "Robot club"
zone = "Europe/London"
sections = ["7 Ash", "7 Birch"]
brief = \"\"\"
Build a robot.
name = "this line is text"
\"\"\"
tie_breaks = ["sock-run", "bunting.quality.idea"]

[calendar]
brief = 2026-10-12T15:30:00
closed = [
    2026-10-26,  # half term
    2026-10-27,
]

[[events]]
key = "sock-run"
name = "Sock run"
weight = 40
[[events.measures]]
kind = "count"
key = "run"
name = "Run"
maximum = 100
items = [{ key = "sock", name = "Sock" }]

[[events]]
key = "bunting"
name = "Bunting"
weight = 30.5
[[events.measures]]
kind = "rubric"
key = "quality"
name = "Quality"
[[events.measures.criteria]]
key = "idea"
name = "One idea"
levels = ["none", "some", "all"]
[[events.measures]]
kind = "time"
key = "chain"
name = "Relay"
limit = 300
"""


def changed(*changes: tuple[str, str]) -> str:
    """The right plan with some of its text replaced."""
    toml = GOOD
    for old, new in changes:
        assert old in toml
        toml = toml.replace(old, new, 1)
    return toml
