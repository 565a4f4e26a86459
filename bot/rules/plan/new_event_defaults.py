"""The numbers of a new event, by the kind of its measure, until the coach changes them: weight, points, attempts."""

from collections.abc import Mapping

WEIGHTS = {"count": 40, "time": 30, "rubric": 30, "checklist": 30, "number": 30}
"""How much it counts, by the kind of its measure."""

MORE_IS_BETTER: Mapping[str, Mapping[str, int | str]] = {
    "count": {"points": 10, "most": 10, "attempts": 2, "keep": "best", "maximum": 100},
    "number": {"decimals": 1, "highest": 100, "floor": 0, "full": 100, "attempts": 1},
    "time": {"limit": 300, "fault_seconds": 5, "floor": 300, "full": 60},
    "checklist": {"points": 1},
    "rubric": {"panel": "mean"},
}
"""What its measure begins with, as a plan names it; times in seconds."""
LESS_IS_BETTER: Mapping[str, Mapping[str, int | str]] = {
    "count": {"points": 1, "attempts": 1, "floor": 20, "full": 0},
    "number": {"decimals": 1, "highest": 100, "floor": 100, "full": 0, "attempts": 1},
}
"""The same where less is better, as with mistakes."""


def of_measure(kind: str, lower: bool) -> Mapping[str, int | str]:
    """What a measure of a kind begins with; `lower` where less is better."""
    return (LESS_IS_BETTER if lower else MORE_IS_BETTER)[kind]
