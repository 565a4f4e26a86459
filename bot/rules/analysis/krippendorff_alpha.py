"""Krippendorff's alpha: how far judges agree, also when not every judge saw every squad.

1 is perfect agreement, 0 is chance, below 0 is worse than chance. alpha = 1 - observed / expected disagreement over all
pairs of values of one squad, a squad with m sheets weighing 1 / (m - 1). (K. Krippendorff 2011, Computing
Krippendorff's Alpha-Reliability.) It does not matter who gave which mark. A squad with one sheet plays no part.

The ordinal distance of two values is the number of marks between them, their own counted half; so it is the interval
distance of mid-ranks, and both run through the same sums of squares.
"""

from collections.abc import Sequence
from math import isnan
from typing import TYPE_CHECKING, Literal, NamedTuple

from bot.rules.analysis.confidence_intervals import TAIL, Coefficient, Interval

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Marks = Sequence[Sequence[float]] | NDArray[np.generic]

HIGHEST_LEVEL = 32
Level = Literal["nominal", "ordinal", "interval", "ratio"]


class Tabulated(NamedTuple):
    """Sheets of K columns (such as criteria), counted for those of the U squads that have two sheets or more."""

    counts: "Floats"
    """K x U x V: how often a squad got a value in a column."""
    values: "Floats"
    """V different values, ascending."""
    sheets: "Floats"
    """U numbers of sheets."""


def alpha(ratings: Sequence[Sequence[float]], level: Level) -> float | None:
    """Alpha of one set of ratings, given for each squad as the values of its sheets.

    None (cannot be computed yet) when no squad has two values, or when all paired values are equal.
    """
    squads = [squad for squad, given in enumerate(ratings) for _ in given]
    return alphas(squads, [(value,) for given in ratings for value in given], level)[0]


def alphas(squads: Sequence[int], marks: "Marks", level: Level) -> list[float | None]:
    """Alpha of each column of a table of sheets: `marks` has one row for each sheet, `squads` says whose it is."""
    if not squads:
        return [None]
    table = tabulate(squads, marks)
    return defined(resampled_alphas(table, None, level)[:, 0])


def tabulate(squads: Sequence[int], marks: "Marks") -> Tabulated:
    """Count the sheets of a table of at least one row."""
    import numpy as np

    place: dict[int, int] = {}
    squad = np.array([place.setdefault(name, len(place)) for name in squads])
    values, column = _columns(np.asarray(marks))
    width, height = len(values), len(place)
    cells = column + width * (squad[:, None] + height * np.arange(column.shape[1]))
    counts = np.bincount(cells.ravel(), minlength=width * height * column.shape[1])
    sheets = np.bincount(squad)
    paired = sheets > 1
    table = counts.reshape(-1, height, width).astype(np.float64)
    if not paired.all():
        table, sheets = table[:, paired], sheets[paired]
    return Tabulated(table, values, sheets.astype(np.float64))


def _columns(marks: "NDArray[np.generic]") -> tuple["Floats", "NDArray[np.intp]"]:
    """The different values in ascending order, and where each mark stands among them.

    Levels, which are small whole numbers, are their own places; a value that nobody gave changes nothing.
    """
    import numpy as np

    if marks.dtype.kind == "i" and marks.min() >= 0 and marks.max() < HIGHEST_LEVEL:
        return np.arange(marks.max() + 1, dtype=np.float64), marks.astype(np.intp)
    values, column = np.unique(marks.astype(np.float64), return_inverse=True)
    return values, column.reshape(marks.shape)


def resampled_alphas(table: Tabulated, times: "Floats | None", level: Level) -> "Floats":
    """Alpha by column x resample, NaN where undefined; `times` (resample x squad) says how often a squad is taken."""
    import numpy as np

    counts, values, sheets = table
    if times is None:
        times = np.ones((1, len(sheets)))
    totals = times @ counts
    marks = totals.sum(axis=2)
    weights = times / (sheets - 1)
    if level in ("nominal", "ratio"):
        apart = (values[:, None] != values).astype(np.float64) if level == "nominal" else _ratio_distance(values)
        observed = (((counts @ apart) * counts).sum(axis=2)[:, None] * weights).sum(axis=2)
        expected = ((totals @ apart) * totals).sum(axis=2)
    else:
        scores = (values - values.mean())[None, None] if level == "interval" else _mid_ranks(totals)
        squares = scores * scores
        by_squad = np.swapaxes(counts, 1, 2)
        observed = (weights * (sheets * (squares @ by_squad) - (scores @ by_squad) ** 2)).sum(axis=2)
        expected = marks * (totals * squares).sum(axis=2) - (totals * scores).sum(axis=2) ** 2
    several = totals.max(axis=2) < marks
    return np.where(several, 1 - (marks - 1) * observed / np.where(several, expected, 1), np.nan)


def alphas_with_intervals(table: Tabulated, level: Level, seed: int, resamples: int) -> list[Coefficient]:
    """Alpha of each column with its bootstrap interval: squads drawn with replacement, percentiles of the alphas.

    Resamples in which alpha is undefined are left out; where that is more than one in ten there is no interval.
    """
    import numpy as np

    values = defined(resampled_alphas(table, None, level)[:, 0])
    squads = len(table.sheets)
    if not resamples or squads < 2:
        return [Coefficient(value, None) for value in values]
    times = np.random.default_rng(seed).multinomial(squads, np.full(squads, 1 / squads), size=resamples)
    drawn = resampled_alphas(table, times.astype(np.float64), level)
    return [
        Coefficient(value, None if value is None else _middle(row[~np.isnan(row)], resamples))
        for value, row in zip(values, drawn, strict=True)
    ]


def defined(values: "Floats") -> list[float | None]:
    """Numbers as they leave this floor: what is undefined is None."""
    return [None if isnan(value) else value for value in values.tolist()]


def _middle(drawn: "Floats", resamples: int) -> Interval | None:
    import numpy as np

    if len(drawn) < 0.9 * resamples:
        return None
    low, high = np.quantile(drawn, (TAIL, 1 - TAIL))
    return float(low), float(high)


def _mid_ranks(totals: "Floats") -> "Floats":
    import numpy as np

    below = np.cumsum(totals, axis=2)
    return below - totals / 2 - below[:, :, -1:] / 2


def _ratio_distance(values: "Floats") -> "Floats":
    import numpy as np

    both = values[:, None] + values
    apart = np.divide(values[:, None] - values, both, out=np.zeros_like(both), where=both != 0)
    return apart * apart
