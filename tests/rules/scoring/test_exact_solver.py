"""Both ways of solving exactly, beside each other and put into the equations."""

import random
from fractions import Fraction

import pytest

from bot.rules.scoring.exact_solver import PRIMES, by_elimination, by_lifting, solve


def system(size: int, seed: int, bits: int) -> tuple[list[list[int]], list[int]]:
    """A symmetric, diagonally dominant system, as of judges who share squads."""
    chance = random.Random(seed)
    matrix = [[0] * size for _ in range(size)]
    for one in range(size):
        for other in range(one):
            if chance.random() < 0.4:
                matrix[one][other] = matrix[other][one] = -chance.getrandbits(bits)
    for one in range(size):
        matrix[one][one] = sum(map(abs, matrix[one])) + 1 + chance.getrandbits(bits)
    return matrix, [chance.getrandbits(bits + 3) - 2**bits for _ in range(size)]


@pytest.mark.parametrize("bits", [2, 20, 80])
@pytest.mark.parametrize("size", [1, 2, 5, 13, 18])
def test_lifting_and_elimination_give_the_same_fractions(size: int, bits: int) -> None:
    for seed in range(2):
        matrix, right = system(size, seed, bits)
        lifted = by_lifting(matrix, right)
        assert lifted == by_elimination(matrix, right) == solve(matrix, right)
        for row, value in zip(matrix, right, strict=True):
            assert sum((entry * one for entry, one in zip(row, lifted, strict=True)), Fraction(0)) == value


def test_a_prime_that_does_not_serve_is_passed_over() -> None:
    matrix = [[PRIMES[0], 0], [0, 3]]
    assert by_lifting(matrix, [1, 1]) == [Fraction(1, PRIMES[0]), Fraction(1, 3)]
    product = PRIMES[0] * PRIMES[1] * PRIMES[2]
    assert by_lifting([[product]], [1]) is None
    assert solve([[product]], [1]) == [Fraction(1, product)]


def test_the_primes_are_prime() -> None:
    assert all(all(prime % divisor for divisor in range(2, 46_341)) for prime in PRIMES)
