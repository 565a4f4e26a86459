"""Which judges a squad meets in its interviews: those of its panels, or everybody where all judges see all squads."""

from bot.actions.judging.sheets_follow_panels import judges_per_squad, tied_seats
from bot.rules.event_day.interview_judges import asked_about, whom_squads_meet
from storage.records.plan import Event
from storage.records.tryout import Tryout
from storage.tables import judges, panels, squads
from storage.tables.sql_session import Snapshot


async def judges_of(db: Snapshot, tryout: Tryout, event: Event) -> dict[int, tuple[int, ...]]:
    """The judges whom each squad meets in an event, nobody of a surprise; Refusal `day_panels_first` (event)."""
    rubrics = asked_about(event)
    if not rubrics:
        return {}
    tied, panels_of = await tied_seats(db, tryout), list[set[tuple[int, int]] | None]()
    for rubric in rubrics:
        if await judges_per_squad(db, tryout, event, rubric) is None:
            panels_of.append(None)
        else:
            seats = await panels.seats(db, tryout.id, event.key, rubric.key)
            panels_of.append({(seat.squad_id, seat.judge_id) for seat in seats})
    everybody = [judge.id for judge in await judges.judges(db, tryout.id)]
    taking_part = [squad.id for squad in await squads.squads(db, tryout.id)]
    return whom_squads_meet(event, taking_part, everybody, panels_of, tied)
