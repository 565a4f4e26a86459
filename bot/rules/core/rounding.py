"""Rounding for show: half up, and never so that two different numbers look the same.

A tie that is shown is a real one; so as many decimals are given as neighbours need, for all the numbers of one list.
"""

from collections.abc import Iterable
from fractions import Fraction

MOST_DECIMALS = 30
"""Beyond this many decimals numbers are shown as fractions."""


def rounded(value: Fraction, decimals: int) -> str:
    """A number with this many decimals, halves away from zero (2.675 is 2.68)."""
    scaled = abs(value) * 10**decimals
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    digits = str(whole).rjust(decimals + 1, "0")
    text = f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits
    return f"-{text}" if value < 0 and whole else text


def decimals_needed(values: Iterable[Fraction], least: int = 1) -> int | None:
    """The fewest decimals, from `least`, with which different numbers look different; None beyond `MOST_DECIMALS`."""
    distinct = set(values)
    for decimals in range(least, MOST_DECIMALS + 1):
        texts = [rounded(value, decimals) for value in distinct]
        if len(set(texts)) == len(distinct):
            return decimals
    return None


def shown(values: Iterable[Fraction], least: int = 1) -> dict[Fraction, str]:
    """Each of the numbers as it should be shown among the others.

    Equal numbers look equal, different ones different; all have the same number of decimals. Numbers that only differ
    beyond thirty decimals are given as exact fractions.
    """
    numbers = set(values)
    decimals = decimals_needed(numbers, least)
    if decimals is None:
        return {value: str(value) for value in numbers}
    return {value: rounded(value, decimals) for value in numbers}
