"""Numbers as people read them: exact where they are short, never rounded into something else."""

from decimal import Decimal
from fractions import Fraction

from bot.rules.core.rounding import rounded

WORDS = {
    1: "one", 2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 10: "ten", 30: "thirty",
}  # fmt: skip


def in_words(number: int) -> str:
    """`two`, `thirty`, as in a sentence; in figures where it is none of the common ones."""
    return WORDS.get(number, str(number))


def exact(value: Fraction | Decimal) -> str:
    """A number with no more digits than it needs; one that never ends is rounded to two decimals."""
    number = Fraction(value)
    for decimals in range(8):
        if (number * 10**decimals).denominator == 1:
            return rounded(number, decimals)
    return rounded(number, 2)


def out_of(value: Fraction, most: Fraction) -> str:
    """`12.4 of 20`, `16.7 of 16.7`: rounded alike, so that the most there is never looks like less, or more."""
    return f"{rounded(value, 1)} of {exact(most) if most.denominator == 1 else rounded(most, 1)}"


def points(value: Fraction | Decimal) -> str:
    """`1 point`, `10 points`, `-3 points`."""
    return f"{exact(value)} {'point' if abs(value) == 1 else 'points'}"


def clock(seconds: Fraction | Decimal) -> str:
    """A time: `45.2 s`, `1:32.4`."""
    whole = Fraction(seconds)
    if whole < 60:
        return f"{exact(whole)} s"
    minutes, rest = divmod(whole, 60)
    shown = exact(rest)
    return f"{minutes}:{shown if len(shown.split('.')[0]) > 1 else '0' + shown}"


def count(number: int, one: str, many: str = "") -> str:
    """`1 squad`, `2 squads`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def several(number: int, name: str) -> str:
    """`1 sock`, `14 socks`: a thing's own name, with the plural of plain English."""
    plain = name[:1].lower() + name[1:] if name[1:2].islower() else name
    return f"{number} {plain if number == 1 or name.endswith('s') else plain + 's'}"


def exact_percent(share: Fraction | Decimal) -> str:
    """`40 %`, `33.33 %`: a share that is given and not found, such as a weight."""
    return f"{exact(share * 100)} %"


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
