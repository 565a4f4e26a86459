"""Where every judge sees every squad: orders in which going first or following a strong squad helps nobody.

Williams squares (E. J. Williams 1949, Australian Journal of Scientific Research A2:149-168): every squad stands once
in every place, and every squad follows every other equally often; n orders for an even number of squads, n orders and
their reverses for an odd one.
"""

from collections.abc import Mapping, Sequence

from bot.rules.judging.connectedness import Seen


def williams(count: int) -> tuple[tuple[int, ...], ...]:
    """The balanced orders of 0 to `count` - 1: `count` of them, twice as many for an odd count above 1."""
    if count <= 1:
        return (tuple(range(count)),)
    first = [(step + 1) // 2 if step % 2 else (count - step // 2) % count for step in range(count)]
    rows = tuple(tuple((entry + shift) % count for entry in first) for shift in range(count))
    return rows if count % 2 == 0 else rows + tuple(row[::-1] for row in rows)


def order_of(number: int, count: int) -> tuple[int, ...]:
    """The order in which the judge with a number (from 1) meets `count` squads.

    Judges take an order and its reverse in turn, so that even two of them have no squad early on the whole.
    """
    rows = williams(count)
    half = len(rows) // 2
    turn = (number - 1) % len(rows)
    return rows[turn // 2 + (half if turn % 2 else 0)]


def places_of_all(judges: Mapping[int, int], squads: Sequence[int]) -> dict[Seen, int]:
    """The place of each squad for each judge, where everybody sees everybody; `judges` are numbers by id.

    Each judge has an order of their own, which stays the same when other judges come or go.
    """
    return {
        (squads[one], judge): place
        for judge, number in judges.items()
        for place, one in enumerate(order_of(number, len(squads)), start=1)
    }
