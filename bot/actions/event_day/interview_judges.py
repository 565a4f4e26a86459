"""Which judges a squad meets in its interviews: those of its panels, or everybody where all judges see all squads."""

from bot.actions.judging.sheet_assignment import judges_per_squad, tied_seats
from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.core.refusal import Refusal
from storage.records.plan import Event
from storage.records.plan_measures import Rubric
from storage.records.tryout import Tryout
from storage.tables import judges, panels, squads
from storage.tables.sql_session import Snapshot


async def judges_of(db: Snapshot, tryout: Tryout, event: Event) -> dict[int, tuple[int, ...]]:
    """The judges whom each squad meets in an event, nobody of a surprise; Refusal `day_panels_first` (event)."""
    rubrics = [measure for measure in event.measures if isinstance(measure, Rubric)]
    if event.surprise or not rubrics:
        return {}
    tied, found = await tied_seats(db, tryout), set[tuple[int, int]]()
    everybody = [judge.id for judge in await judges.judges(db, tryout.id)]
    taking_part = [squad.id for squad in await squads.squads(db, tryout.id)]
    for rubric in rubrics:
        if await judges_per_squad(db, tryout, event, rubric) is None:
            found |= {(squad, judge) for squad in taking_part for judge in everybody}
        else:
            seats = await panels.seats(db, tryout.id, event.key, rubric.key)
            if everybody and not seats:
                raise Refusal(DayReason.DAY_PANELS_FIRST, event=event.name)
            found |= {(seat.squad_id, seat.judge_id) for seat in seats}
    found -= tied
    return {squad: tuple(sorted(judge for one, judge in found if one == squad)) for squad in taking_part}
