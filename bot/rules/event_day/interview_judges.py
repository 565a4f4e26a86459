"""Which judges a squad meets in its interviews: its panels, or all of them; nobody in a surprise, none of its own."""

from collections.abc import Collection, Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from storage.records.plan import Event
from storage.records.plan_measures import Rubric

Seats = Collection[tuple[int, int]]
"""Who judges whom, as (squad, judge)."""


def asked_about(event: Event) -> list[Rubric]:
    """What squads are asked about in their interviews: everything that judges mark; nothing of a surprise."""
    return [] if event.surprise else [measure for measure in event.measures if isinstance(measure, Rubric)]


def whom_squads_meet(
    event: Event, squads: Iterable[int], judges: Sequence[int], panels: Iterable[Seats | None], tied: Seats
) -> dict[int, tuple[int, ...]]:
    """The judges whom each squad meets, by its seats in the `panels`; None where all judges see all squads.

    Judges who are `tied` to a squad do not meet it.

    Raises Refusal: `day_panels_first` (event), where nobody has been shared out.
    """
    squads = list(squads)
    found: set[tuple[int, int]] = set()
    for seats in panels:
        if judges and seats is not None and not seats:
            raise Refusal(DayReason.DAY_PANELS_FIRST, event=event.name)
        found |= {(squad, judge) for squad in squads for judge in judges} if seats is None else set(seats)
    found -= set(tied)
    return {squad: tuple(sorted(judge for one, judge in found if one == squad)) for squad in squads}
