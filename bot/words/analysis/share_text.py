"""Shares as percentages that never say all or nothing when it is only nearly so."""

from fractions import Fraction

from bot.rules.core.rounding import rounded


def percent(share: Fraction, drawn: bool = False) -> str:
    """`40 %`, `less than 1 %`, `more than 99 %`; `about 40 %` where it was drawn, which never proves all or nothing."""
    if share == 1 and not drawn:
        return "100 %"
    if share == 0 and not drawn:
        return "0 %"
    if share < Fraction(1, 100):
        return "less than 1 %"
    if share > Fraction(99, 100):
        return "more than 99 %"
    return f"about {rounded(share * 100, 0)} %"
