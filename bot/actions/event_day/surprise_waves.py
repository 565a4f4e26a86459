"""A surprise by waves: started for one section or squad, and sealed for all others until theirs begins."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.event_day.surprise_for_all import may_start, start_for_all
from bot.actions.judging.open_judging import DrawnPanels, draw_panels, open_sheets
from bot.rules.event_day.day_windows import day_dates
from bot.rules.event_day.surprise_for_all import one_waiting
from bot.rules.event_day.surprise_waves import left_after, within_hearing
from bot.rules.event_day.surprise_waves import picked as squads_picked
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import surprise_for_all as surprise_words
from bot.words.event_day import surprise_waves as words
from storage.records.message import Answer, Replace
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, safety, squads, surprise_waves
from storage.tables.sql_session import Snapshot, Transaction


@view(DayKey.WAVE_ASK, "coach")
async def ask_wave(db: Snapshot, tryout: Tryout, request: Request, event_key: str, page: int = 0) -> Answer:
    """Ask for whom a surprise shall start."""
    event = one_waiting(await may_start(db, tryout), event_key)
    started = await surprise_waves.started_for(db, tryout.id, event.key)
    return Replace(message=words.pick(tryout.plan, event, await squads.squads(db, tryout.id), started, page))


@view(DayKey.WAVE_PICK, "coach")
async def pick(db: Snapshot, tryout: Tryout, request: Request, event_key: str, _way: str, *, picked: str) -> Answer:
    """Ask once before it starts for them, with the safety lines, and with who could overhear it."""
    event, wave = await _wave(db, tryout, event_key, picked)
    everybody, started = await squads.squads(db, tryout.id), await surprise_waves.started_for(db, tryout.id, event.key)
    dates = day_dates(tryout.plan, schedule_of(tryout)) if tryout.plan.event_day else ()
    hearing = within_hearing(tryout.plan, dates, wave, everybody, started)
    last = not left_after(everybody, started, wave)
    return Replace(message=words.sure(event, picked, wave, hearing, last))


async def _draw(db: Snapshot, tryout: Tryout, request: Request, event_key: str, choice: str) -> Work[DrawnPanels]:
    return await draw_panels(db, tryout, event_key)


@act(DayKey.WAVE_START, "coach", before=_draw)
async def start(
    db: Transaction, tryout: Tryout, request: Request, event_key: str, choice: str, *, prepared: DrawnPanels
) -> Answer:
    """Start it for them: their rooms get the task; after the last wave everybody may read it."""
    event, wave = await _wave(db, tryout, event_key, choice)
    ids = [squad.id for squad in wave]
    await surprise_waves.start(db, event.key, ids, request.who, request.at)
    await safety.note_check(db, tryout.id, event.key, ids, request.who, request.at)
    for message in surprise_words.told(event, tryout.plan):
        for squad in ids:
            await outbox.enqueue(db, tryout.id, f"squad/{squad}", message, request.at)
    await open_sheets(db, tryout, event.key, request.at, prepared)
    await audit(db, tryout, request, "surprise.wave", event=event.key, squads=ids)
    started = await surprise_waves.started_for(db, tryout.id, event.key)
    left = left_after(await squads.squads(db, tryout.id), started)
    if not left:
        await start_for_all(db, tryout, request, event, prepared)
    return Replace(message=words.started(event, wave, left))


async def _wave(db: Snapshot, tryout: Tryout, event_key: str, choice: str) -> tuple[Event, tuple[Squad, ...]]:
    event = one_waiting(await may_start(db, tryout), event_key)
    started = await surprise_waves.started_for(db, tryout.id, event.key)
    return event, squads_picked(choice, tryout.plan, await squads.squads(db, tryout.id), started)
