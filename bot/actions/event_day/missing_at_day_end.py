"""When the day is over: what is missing, squad by squad."""

from bot.actions.core.dispatch import view
from bot.rules.event_day.may_arrange import check_runs
from bot.rules.event_day.missing_at_day_end import begun, missing, unstarted
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import missing_at_day_end as words
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import absences, attempts, judges, score_sheets, squads, surprise_waves, surprises
from storage.tables.sql_session import Snapshot


@view(DayKey.DAY_LEFT, "coach")
async def what_is_missing(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show what each squad lacks in what has begun for it."""
    check_runs(tryout)
    taking_part = await squads.squads(db, tryout.id)
    started = await surprises.started(db, tryout.id)
    waves = {(one.squad_id, one.event) for one in await surprise_waves.starts(db, tryout.id)}
    found = missing(
        begun(tryout.plan.events, taking_part, started, waves),
        taking_part,
        await attempts.attempts(db, tryout.id),
        await score_sheets.sheets(db, tryout.id),
        await absences.absences(db, tryout.id),
        await judges.judges(db, tryout.id),
    )
    return Replace(message=words.what_is_missing(taking_part, found, unstarted(tryout.plan.events, started)))
