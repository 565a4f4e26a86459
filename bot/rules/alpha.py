"""Krippendorff's alpha: how far judges agree, also when not every judge saw every squad.

1 is perfect agreement, 0 is chance, below 0 is worse than chance. alpha = 1 - observed / expected disagreement over all
pairs of values of one squad, a squad with m sheets weighing 1 / (m - 1). (K. Krippendorff 2011, Computing
Krippendorff's Alpha-Reliability.) It does not matter who gave which mark. A squad with one sheet plays no part.

The ordinal distance of two values is the number of marks between them, their own counted half; so it is the interval
distance of mid-ranks, and both run through the same sums of squares.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal, NamedTuple

from bot.rules.coefficient import Coefficient, Interval

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

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


def alphas(squads: Sequence[int], marks: Sequence[Sequence[float]], level: Level) -> list[float | None]:
    """Alpha of each column of a table of sheets: `marks` has one row for each sheet, `squads` says whose it is."""
    if not squads:
        return [None]
    table = tabulate(squads, marks)
    return defined(resampled_alphas(table, None, level)[:, 0])


def tabulate(squads: Sequence[int], marks: Sequence[Sequence[float]]) -> Tabulated:
    """Count the sheets of a table of at least one row."""
    import numpy as np

    names, squad = np.unique(np.asarray(squads), return_inverse=True)
    values, column = np.unique(np.asarray(marks, dtype=np.float64), return_inverse=True)
    width, height = len(values), len(names)
    column = column.reshape(len(squads), -1)
    cells = column + width * (squad[:, None] + height * np.arange(column.shape[1]))
    counts = np.bincount(cells.ravel(), minlength=width * height * column.shape[1])
    sheets = np.bincount(squad)
    paired = sheets > 1
    table = counts.reshape(-1, height, width).astype(np.float64)[:, paired]
    return Tabulated(table, values, sheets[paired].astype(np.float64))


def resampled_alphas(table: Tabulated, times: "Floats | None", level: Level) -> "Floats":
    """Alpha by column x resample, NaN where undefined; `times` (resample x squad) says how often a squad is taken."""
    import numpy as np

    counts, values, sheets = table
    if times is None:
        times = np.ones((1, len(sheets)))
    totals = times @ counts
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
        expected = totals.sum(axis=2) * (totals * squares).sum(axis=2) - (totals * scores).sum(axis=2) ** 2
    several = np.count_nonzero(totals, axis=2) > 1
    pairs = totals.sum(axis=2) - 1
    return np.where(several, 1 - pairs * observed / np.where(several, expected, 1), np.nan)


def alphas_with_intervals(table: Tabulated, level: Level, seed: int, resamples: int) -> list[Coefficient]:
    """Alpha of each column with its 95 % bootstrap interval: squads drawn with replacement, percentiles of the alphas.

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
    import numpy as np

    return [None if np.isnan(value) else float(value) for value in values]


def _middle(drawn: "Floats", resamples: int) -> Interval | None:
    import numpy as np

    if len(drawn) < 0.9 * resamples:
        return None
    low, high = np.quantile(drawn, (0.025, 0.975))
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
