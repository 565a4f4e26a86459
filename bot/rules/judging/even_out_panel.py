"""Evening out a seating: any two judges should meet at as many squads as any other two.

A search by exchanges (F. Glover's tabu search, 1989) over the squads-by-judges grid. What is made small is the sum,
over pairs of judges, of the square of how often they meet; the sum over pairs of squads of the square of how many
judges they share differs from it by a constant, so that both sides are evened at once. A balanced incomplete block
design reaches the bound below, and the search ends there; it ends after a fixed number of steps where none exists
(the counting identities alone do not tell; `tests/rules/reference/C7.json`).
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from bot.rules.judging.connectedness import Seen, parts, weak_links

STEPS = 600
FORBIDDEN = 10**9
Grid = NDArray[np.int64]


def even_out(
    seats: frozenset[Seen],
    judges: Sequence[int],
    squads: Sequence[int],
    tied: frozenset[Seen],
    fixed: frozenset[Seen],
) -> frozenset[Seen]:
    """The most even seating found from a given one, with the same number of judges a squad and even loads.

    `Seen` is (squad, judge). Ties and fixed seats are kept, and so is the chain that links all squads, if there is one.
    """
    search = _Search(
        grid=np.array([[int((squad, judge) in seats) for judge in judges] for squad in squads], dtype=np.int64),
        open_to=np.array([[(squad, judge) not in tied for judge in judges] for squad in squads], dtype=bool),
        free=np.array([[(squad, judge) not in fixed for judge in judges] for squad in squads], dtype=bool),
    )
    best = search.run()
    return frozenset((squads[row], judges[column]) for row, column in np.argwhere(best == 1).tolist())


def least_sum(squads: int, judges: int, per_squad: int) -> int:
    """A bound that no seating can go below: sum over pairs of judges of the square of how often they meet.

    Reached when the meetings of judges, or those of squads, are as even as whole numbers allow.
    """
    low, more = divmod(squads * per_squad, judges)
    loads = [low + 1] * more + [low] * (judges - more)
    met = _even(squads * per_squad * (per_squad - 1) // 2, judges * (judges - 1) // 2)
    shared = _even(sum(load * (load - 1) // 2 for load in loads), squads * (squads - 1) // 2)
    # Both matrices of meetings have the same sum of squares, the diagonals (loads, judges a squad) included.
    other = (2 * shared + squads * per_squad**2 - sum(load**2 for load in loads)) // 2
    return max(met, other)


def _even(total: int, parts: int) -> int:
    """The smallest sum of squares of `parts` whole numbers that add up to `total`."""
    if parts == 0:
        return 0
    low, more = divmod(total, parts)
    return (parts - more) * low**2 + more * (low + 1) ** 2


class _Search:
    """One search. Rows are squads, columns judges."""

    def __init__(self, grid: Grid, open_to: NDArray[np.bool_], free: NDArray[np.bool_]) -> None:
        self.grid, self.open_to, self.free = grid, open_to, free
        self.least, self.most = int(grid.sum(axis=0).min()), int(grid.sum(axis=0).max())
        self.resting = np.zeros_like(grid)
        """Until which step a seat that was given up is not taken again."""
        meetings = grid.T @ grid
        self.sum = int((np.triu(meetings, 1) ** 2).sum())

    def run(self) -> Grid:
        """The best grid on the way."""
        squads, judges = self.grid.shape
        goal = least_sum(squads, judges, int(self.grid[0].sum()))
        best, best_grid = self._quality(), self.grid.copy()
        for step in range(1, STEPS + 1):
            if best == (0, goal, 0) or not self._move(step, best[1]):
                break
            if self.sum <= best[1]:
                quality = self._quality()
                if quality < best:
                    best, best_grid = quality, self.grid.copy()
        return best_grid

    def _quality(self) -> tuple[int, int, int]:
        """To be made small: breaks in the chain, unevenness, judges on whom alone the chain hangs."""
        seats = [(row, column) for row, column in np.argwhere(self.grid == 1).tolist()]
        return len(parts(seats)) - 1, self.sum, len(weak_links(seats).judges)

    def _move(self, step: int, best: int) -> bool:
        """Make the best exchange (or hand-over) that is not resting; whether there was one."""
        grid = self.grid
        rows, columns = np.nonzero((grid == 1) & self.free)
        if rows.size == 0:
            return False
        meetings, shared = grid.T @ grid, grid @ grid.T
        loads = np.diag(meetings)
        weight = grid @ meetings
        # change[e, b]: what the sum changes by when judge b takes the seat e over.
        change = 2 * (weight[rows] - meetings[columns] - (weight[rows, columns] - loads[columns])[:, None])
        change += 2 * (grid[rows].sum(axis=1) - 1)[:, None]
        allowed = (grid[rows] == 0) & self.open_to[rows]
        rests = self.resting[rows] > step
        # Two seats change judges: what both squads' common judges see cancels out.
        swap = change[:, columns] + change[:, columns].T - 4 * shared[np.ix_(rows, rows)]
        may_swap = allowed[:, columns] & allowed[:, columns].T
        swap_rests = rests[:, columns] | rests[:, columns].T
        swap = np.where(may_swap & (~swap_rests | (self.sum + swap < best)), swap, FORBIDDEN)
        hand = np.full_like(change, FORBIDDEN)
        if self.most > self.least:
            lighter = (loads[columns] == self.most)[:, None] & (loads == self.least)[None, :]
            hand = np.where(allowed & lighter & (~rests | (self.sum + change < best)), change, FORBIDDEN)
        first, second = int(swap.argmin()), int(hand.argmin())
        if min(swap.flat[first], hand.flat[second]) >= FORBIDDEN:
            return False
        rest = step + 4 + (step * 7) % 9
        if swap.flat[first] <= hand.flat[second]:
            one, two = divmod(first, rows.size)
            self._give(rows[one], columns[one], columns[two], rest)
            self._give(rows[two], columns[two], columns[one], rest)
            self.sum += int(swap.flat[first])
        else:
            seat, judge = divmod(second, grid.shape[1])
            self._give(rows[seat], columns[seat], judge, rest)
            self.sum += int(hand.flat[second])
        return True

    def _give(self, row: int, old: int, new: int, rest: int) -> None:
        self.grid[row, old], self.grid[row, new] = 0, 1
        self.resting[row, old] = rest
