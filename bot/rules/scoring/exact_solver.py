"""Exact solutions of systems of linear equations in whole numbers.

Small ones by elimination without fractions (E. H. Bareiss 1968). Larger ones by p-adic lifting (J. D. Dixon 1982): the
inverse modulo one prime gives the solution digit by digit to that prime; when enough digits are known, the fractions
are read from them, and put into the equations, so that a wrong one is never returned.
"""

from collections.abc import Sequence
from fractions import Fraction
from math import isqrt
from operator import mul
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

LIFTED_FROM = 12
"""Unknowns from which lifting is quicker."""
PRIMES = (2147483647, 2147483629, 2147483587)
"""The largest below 2^31, so that products fit into 64 bits."""
_FIRST_CHECK = 6
_MOST_DIGITS = 50_000


def solve(matrix: Sequence[Sequence[int]], right: Sequence[int]) -> list[Fraction]:
    """The solution of a symmetric positive definite system."""
    if len(matrix) >= LIFTED_FROM:
        lifted = by_lifting(matrix, right)
        if lifted is not None:
            return lifted
    return by_elimination(matrix, right)


def by_elimination(matrix: Sequence[Sequence[int]], right: Sequence[int]) -> list[Fraction]:
    """The solution, without a fraction before the end.

    Takes about a third of size^3 products of whole numbers that grow with every step.
    """
    size = len(matrix)
    if not size:
        return []
    upper = [list(row) for row in matrix]
    side = list(right)
    previous = 1
    for step in range(size - 1):
        pivot_row, pivot = upper[step], upper[step][step]
        for row in range(step + 1, size):
            factor = pivot_row[row]
            target = upper[row]
            for column in range(row, size):
                target[column] = (pivot * target[column] - factor * pivot_row[column]) // previous
            side[row] = (pivot * side[row] - factor * side[step]) // previous
        previous = pivot
    determinant = upper[-1][-1]
    solved = [0] * size
    for row in reversed(range(size)):
        rest = sum(upper[row][column] * solved[column] for column in range(row + 1, size))
        solved[row] = (determinant * side[row] - rest) // upper[row][row]
    return [Fraction(value, determinant) for value in solved]


def by_lifting(matrix: Sequence[Sequence[int]], right: Sequence[int]) -> list[Fraction] | None:
    """The solution of a regular system; None where none of the primes serves."""
    import numpy as np

    found = ((prime, _inverse(matrix, prime)) for prime in PRIMES)
    prime, inverse = next(((p, one) for p, one in found if one is not None), (0, None))
    if inverse is None:
        return None
    rest, known, modulus = list(right), [0] * len(right), 1
    check = _FIRST_CHECK
    for digits in range(1, _MOST_DIGITS):
        left = np.array([value % prime for value in rest], dtype=np.int64)
        digit: list[int] = ((inverse * left % prime).sum(axis=1) % prime).tolist()
        known = [value + modulus * one for value, one in zip(known, digit, strict=True)]
        modulus *= prime
        rest = [(value - sum(map(mul, row, digit))) // prime for value, row in zip(rest, matrix, strict=True)]
        if digits == check:
            read = _fractions(known, modulus)
            if read is not None:
                above, below = read
                if all(sum(map(mul, row, above)) == below * value for row, value in zip(matrix, right, strict=True)):
                    return [Fraction(value, below) for value in above]
            check += check // 3 + 1
    return None


def _inverse(matrix: Sequence[Sequence[int]], prime: int) -> "NDArray[np.int64] | None":
    """The inverse modulo a prime (Gauss and Jordan); None where it has none."""
    import numpy as np

    size = len(matrix)
    rows = np.zeros((size, 2 * size), dtype=np.int64)
    rows[:, :size] = [[value % prime for value in row] for row in matrix]
    rows[:, size:] = np.eye(size, dtype=np.int64)
    for step in range(size):
        places = np.flatnonzero(rows[step:, step])
        if not len(places):
            return None
        swap = step + int(places[0])
        rows[[step, swap]] = rows[[swap, step]]
        rows[step] = rows[step] * pow(int(rows[step, step]), -1, prime) % prime
        times = rows[:, step].copy()
        times[step] = 0
        rows = (rows - times[:, None] * rows[step] % prime) % prime
    return rows[:, size:]


def _fractions(known: Sequence[int], modulus: int) -> tuple[list[int], int] | None:
    """Numerators over a common denominator, read from residues (P. S. Wang 1981); right if digits enough are known.

    None where the denominator leaves no room for that: too few digits are known.
    """
    below, bound = 1, isqrt(modulus // 2)
    for value in known:
        below *= _denominator(value * below % modulus, modulus, bound)
        if below > bound:
            return None
    half = modulus // 2
    above = [value * below % modulus for value in known]
    return [value - modulus if value > half else value for value in above], below


def _denominator(value: int, modulus: int, bound: int) -> int:
    """The denominator of the fraction of numbers up to `bound` that leaves this residue."""
    before, now, factor_before, factor = modulus, value, 0, 1
    while now > bound:
        times, rest = divmod(before, now)
        before, now = now, rest
        factor_before, factor = factor, factor_before - times * factor
    return abs(factor)
