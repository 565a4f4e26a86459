"""The lot for the first round at the practice table: published with the brief, drawn by the coach."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.practice.all_turns_admin import panel_of
from bot.actions.practice.practice_table import check_running, names_of, plan_openings, show_practice, the_table
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.first_round_draw import check_draw, is_wanted, read_key, squads_told
from bot.words.core.action_keys import ActionKey
from bot.words.practice import first_round_draw as words
from storage.records.message import Answer, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, practice, squads
from storage.tables.sql_session import Snapshot, Transaction


async def open_practice(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """With the brief turns can be booked; or the list for the lot is published first, as the plan says."""
    of_plan = tryout.plan.practice
    if of_plan is not None and is_wanted(of_plan):
        await practice.publish_draw(db, tryout.id, [squad.id for squad in await squads.squads(db, tryout.id)], now)
        lot = await practice.draw(db, tryout.id)
        assert lot is not None
        for message in words.published(of_plan, lot, await names_of(db, tryout)):
            await outbox.enqueue(db, tryout.id, "news", message, now)
    await show_practice(db, tryout)
    await plan_openings(db, tryout, now)


@view(ActionKey.PRACTICE_DRAW, "coach")
async def ask_key(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for the key."""
    check_running(tryout)
    table = await the_table(db, tryout)
    check_draw(table.lot, request.at)
    return Open(form=words.draw_form(table.practice))


@act(ActionKey.PRACTICE_DRAWN, "coach")
async def draw(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Draw with the key, and tell everyone the order."""
    check_running(tryout)
    check_draw((await the_table(db, tryout)).lot, request.at)
    key = read_key(request.field("key"))
    if not await practice.settle_draw(db, tryout.id, key, request.at):
        raise Refusal(Reason.DRAWN_ALREADY)
    lot = await practice.draw(db, tryout.id)
    assert lot is not None
    names = await names_of(db, tryout)
    for message in words.drawn(lot, names):
        await outbox.enqueue(db, tryout.id, "news", message, request.at)
    for squad in squads_told(lot, names):
        await outbox.enqueue(db, tryout.id, f"squad/{squad}", words.your_moment(lot, squad), request.at)
    await show_practice(db, tryout)
    await plan_openings(db, tryout, request.at)
    await audit(db, tryout, request, "practice.draw", key=key)
    return Replace(message=await panel_of(db, tryout, request.at, words.DONE))
