"""How a measured figure is shown beside what was promised."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True)
class Line:
    """One figure, and whether it keeps its promise; `kept` is None where there is no promise or no figure."""

    what: str
    measured: str
    promise: str = ""
    kept: bool | None = None

    def __str__(self) -> str:
        verdict = {True: "kept", False: "MISSED", None: ""}[self.kept]
        return f"{self.what:<34} {self.measured:<74} {self.promise:<22} {verdict}".rstrip()


def not_measured(what: str, why: str) -> Line:
    """A figure that cannot be had here, and why."""
    return Line(what, f"not measured: {why}")


def at_most(what: str, measured: str, value: float, most: float, promise: str) -> Line:
    """A figure that must not be greater than what was promised."""
    return Line(what, measured, promise, value <= most)


def spread(seconds: Sequence[float]) -> str:
    """The median of some runs, and the range they lie in."""
    return f"{median(seconds):.2f} s ({min(seconds):.2f} to {max(seconds):.2f})"


def percentile(values: Sequence[float], percent: float) -> float:
    """The smallest value that at least `percent` of the values do not exceed (nearest rank)."""
    ordered = sorted(values)
    rank = max(1, -(-len(ordered) * percent // 100))
    return ordered[int(rank) - 1]
