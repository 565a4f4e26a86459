"""The draw of the order: the list is published first, then the key becomes known, then anyone can recheck it."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.event_day.event_day_overview import panel_of
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.day_draw import check_may_draw, check_may_publish, order_of, pool_of
from bot.rules.event_day.may_arrange import check_runs, plan_of
from bot.rules.practice.first_round_draw import read_key
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import day_draw as words
from storage.records.message import Answer, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import day_draw, outbox, squads
from storage.tables.sql_session import Snapshot, Transaction


@act(DayKey.DAY_PUBLISH, "coach")
async def publish(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Publish the list of squads and where the key will come from."""
    check_runs(tryout)
    of_plan = plan_of(tryout)
    taking_part = await squads.squads(db, tryout.id)
    check_may_publish(await day_draw.draw(db, tryout.id), taking_part)
    await day_draw.publish(db, tryout.id, pool_of(taking_part), request.at)
    draw = await day_draw.draw(db, tryout.id)
    assert draw is not None
    for message in words.published(of_plan, draw, {squad.id: squad.name for squad in taking_part}):
        await outbox.enqueue(db, tryout.id, "news", message, request.at)
    await audit(db, tryout, request, "day.publish", pool=list(draw.pool))
    return Replace(message=await panel_of(db, tryout, request.at))


@view(DayKey.DAY_KEY, "coach")
async def ask_key(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for the key."""
    check_runs(tryout)
    check_may_draw(await day_draw.draw(db, tryout.id))
    return Open(form=words.key_form(plan_of(tryout)))


@act(DayKey.DAY_DRAWN, "coach")
async def draw_order(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Draw with the key, and tell everyone the order."""
    check_runs(tryout)
    check_may_draw(await day_draw.draw(db, tryout.id))
    key = read_key(request.field("key"))
    if not await day_draw.settle(db, tryout.id, key, request.at):
        raise Refusal(DayReason.DAY_DRAWN)
    draw = await day_draw.draw(db, tryout.id)
    assert draw is not None
    names = {squad.id: squad.name for squad in await squads.squads(db, tryout.id)}
    for message in words.drawn(draw, order_of(draw, tuple(names)), names):
        await outbox.enqueue(db, tryout.id, "news", message, request.at)
    await audit(db, tryout, request, "day.draw", key=key)
    return Replace(message=await panel_of(db, tryout, request.at))
