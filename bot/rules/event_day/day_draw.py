"""The order of the event day: drawn among those who were published, whoever came later behind them."""

from collections.abc import Sequence

from bot.rules.practice.random_draw import draw
from storage.records.day_timetable import DayDraw


def order_of(found: DayDraw, squads: Sequence[int]) -> tuple[int, ...]:
    """The squads that take part in the order drawn (RFC 3797 with SHA-256); nobody's place hangs on who left."""
    drawn = () if found.key is None else draw(found.pool, found.key)
    return (*(squad for squad in drawn if squad in squads), *(squad for squad in squads if squad not in drawn))
