"""The surprise event: secret until the coach starts it, for all at one moment (or by waves: see the event day)."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.judging.open_judging import DrawnPanels, draw_panels, open_sheets
from bot.rules.event_day.surprise_for_all import check_may_start, one_waiting, reads_task_now
from bot.words.core.action_keys import ActionKey
from bot.words.event_day import surprise_for_all as words
from bot.words.plan.public_plan import public_plan
from storage.records.message import Answer, Message, Replace
from storage.records.plan import Event
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, live_messages, outbox, safety, squads, surprise_waves, surprises
from storage.tables.sql_session import Snapshot, Transaction
from storage.tables.surprises import waiting


@view(ActionKey.SURPRISE_ASK, "coach")
async def ask_surprise_start(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before a surprise starts; with several, first which one."""
    found = await may_start(db, tryout)
    return Replace(message=words.pick(found) if len(found) > 1 else await _sure(db, tryout, found[0]))


@view(ActionKey.SURPRISE_PICK, "coach")
async def pick(db: Snapshot, tryout: Tryout, request: Request, *, picked: str) -> Answer:
    """Ask once before the surprise that was picked starts."""
    return Replace(message=await _sure(db, tryout, one_waiting(await may_start(db, tryout), picked)))


async def _draw(db: Snapshot, tryout: Tryout, request: Request, event_key: str) -> Work[DrawnPanels]:
    return await draw_panels(db, tryout, event_key)


@act(ActionKey.SURPRISE_START, "coach", before=_draw)
async def start(db: Transaction, tryout: Tryout, request: Request, event_key: str, *, prepared: DrawnPanels) -> Answer:
    """Start a surprise: everybody reads the task, and judges get the sheets."""
    event = one_waiting(await may_start(db, tryout), event_key)
    await safety.note_check(db, tryout.id, event.key, [None], request.who, request.at)
    await start_for_all(db, tryout, request, event, prepared)
    return Replace(message=words.started(event))


async def start_for_all(db: Transaction, tryout: Tryout, request: Request, event: Event, prepared: DrawnPanels) -> None:
    """The surprise is none any more: who has not read the task in a wave reads it now, and the class in the news."""
    await surprises.start(db, tryout.id, event.key, request.at)
    known = await surprise_waves.started_for(db, tryout.id, event.key)
    rooms = [f"squad/{squad.id}" for squad in reads_task_now(await squads.squads(db, tryout.id), known)]
    for message in words.told(event, tryout.plan):
        for room in rooms:
            await outbox.enqueue(db, tryout.id, room, message, request.at)
    await outbox.enqueue(db, tryout.id, "news", words.told_in_news(event), request.at)
    public = public_plan(tryout.plan, await surprises.started(db, tryout.id))
    await outbox.enqueue(db, tryout.id, "news", words.revealed(public), request.at)
    await live_messages.mark_stale(db, tryout.id, "brief")
    await open_sheets(db, tryout, event.key, request.at, prepared)
    await audit(db, tryout, request, "surprise.start", event=event.key)


async def _sure(db: Snapshot, tryout: Tryout, event: Event) -> Message:
    rooms, panel = await squads.squads(db, tryout.id), await judges.judges(db, tryout.id)
    started = await surprise_waves.started_for(db, tryout.id, event.key)
    return words.surprise_sure(event, len(reads_task_now(rooms, started)), len(panel), bool(started))


async def may_start(db: Snapshot, tryout: Tryout) -> list[Event]:
    """The surprises that can start. Raises Refusal as `check_may_start`."""
    return check_may_start(tryout.state, await waiting(db, tryout))
