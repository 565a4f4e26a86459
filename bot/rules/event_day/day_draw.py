"""The order of the event day: when it may be drawn, and among whom; whoever came later is behind them."""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.practice.random_draw import draw
from storage.records.event_day import DayDraw
from storage.records.people import Squad


def pool_of(squads: Iterable[Squad]) -> list[int]:
    """The list that is published and drawn from: the squads (ids) by number."""
    return [squad.id for squad in sorted(squads, key=lambda squad: squad.number)]


def order_of(found: DayDraw, squads: Sequence[int]) -> tuple[int, ...]:
    """The squads that take part in the order drawn (RFC 3797 with SHA-256); nobody's place hangs on who left."""
    drawn = () if found.key is None else draw(found.pool, found.key)
    return (*(squad for squad in drawn if squad in squads), *(squad for squad in squads if squad not in drawn))


def check_may_publish(found: DayDraw | None, squads: Sequence[Squad]) -> None:
    """The list is published once, with somebody on it. Raises Refusal: `day_published`, `day_no_squads`."""
    if found is not None:
        raise Refusal(DayReason.DAY_PUBLISHED)
    if not squads:
        raise Refusal(DayReason.DAY_NO_SQUADS)


def check_may_draw(found: DayDraw | None) -> None:
    """It is drawn once, after the list was published. Raises Refusal: `day_draw_first`, `day_drawn`."""
    if found is None:
        raise Refusal(DayReason.DAY_DRAW_FIRST)
    if found.key is not None:
        raise Refusal(DayReason.DAY_DRAWN)
