"""All turns of the practice table, as the coach asks for them: note one as lost, close one, book for a squad."""

from datetime import datetime
from zoneinfo import ZoneInfo

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.practice.practice_table import (
    begin_of,
    check_running,
    may_book_now,
    names_of,
    plan_openings,
    the_table,
    turns_changed,
)
from bot.actions.practice.turn_reminders import drop_reminder, plan_reminder
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice import all_turns_admin as rules
from bot.rules.practice.first_round_draw import may_draw
from bot.rules.practice.practice_table import PracticeTable
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import PAGE
from bot.words.practice import all_turns_admin as words
from bot.words.practice import booking as room_words
from bot.words.practice import cancelled_turns as gone_words
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, practice, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PRACTICE_PANEL, "coach")
async def practice_panel(db: Snapshot, tryout: Tryout, request: Request, page: str = "") -> Answer:
    """All turns, from the page on which the next one stands; messages of earlier versions carry -1 for that."""
    number = int(page) if page.isdecimal() else -1
    return Replace(message=await panel_of(db, tryout, request.at, page=number))


async def panel_of(db: Snapshot, tryout: Tryout, now: datetime, said: str = "", page: int = -1) -> Message:
    """One page of all turns; below 0 the one on which the next turn stands."""
    table = await the_table(db, tryout)
    if page < 0:
        page = rules.page_of_next_turn(table.slots, now, PAGE)
    draws = tryout.state == "window" and may_draw(table.lot, now)
    found = await squads.squads(db, tryout.id)
    return words.practice_panel(ZoneInfo(tryout.plan.zone), table, found, page, draws, said)


@view(ActionKey.PRACTICE_TURN, "coach")
async def one_turn(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """One turn, and what can be done with it."""
    return await _shown(db, tryout, request, begin_of(picked))


@act(ActionKey.PRACTICE_LOSE, "coach")
async def lose(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Note that a squad's turn was lost through equipment: it may book another one."""
    table, begin = await _asked(db, tryout, begins)
    squad_id = rules.check_held(table, begin)
    await practice.set_lost(db, tryout.id, begin, True)
    await drop_reminder(db, tryout, squad_id, begin, request.at)
    can = await may_book_now(db, tryout, squad_id, request.at)
    await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", gone_words.told_lost(begin, can), request.at)
    return await _done(db, tryout, request, table, begin, "lost", squad_id)


@act(ActionKey.PRACTICE_UNLOSE, "coach")
async def unlose(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Take that back."""
    table, begin = await _asked(db, tryout, begins)
    squad_id = rules.check_lost(table, begin)
    await practice.set_lost(db, tryout.id, begin, False)
    await plan_reminder(db, tryout, squad_id, begin, request.at)
    await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", gone_words.told_not_lost(begin), request.at)
    return await _done(db, tryout, request, table, begin, "unlost", squad_id)


@act(ActionKey.PRACTICE_RELEASE, "coach")
async def release(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Give a squad's turn back for it, however late."""
    table, begin = await _asked(db, tryout, begins)
    squad_id = rules.check_may_release(table, begin, request.at)
    await practice.free(db, tryout.id, begin)
    await drop_reminder(db, tryout, squad_id, begin, request.at)
    can = await may_book_now(db, tryout, squad_id, request.at)
    await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", gone_words.told_taken_back(begin, can), request.at)
    return await _done(db, tryout, request, table, begin, "released", squad_id)


@act(ActionKey.PRACTICE_BLOCK, "coach")
async def block(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Close a turn; a squad that had it is told and has it back."""
    table, begin = await _asked(db, tryout, begins)
    squad_id = rules.check_may_close(table, begin, request.at)
    await practice.block(db, tryout.id, begin)
    if squad_id is not None:
        await drop_reminder(db, tryout, squad_id, begin, request.at)
        can = await may_book_now(db, tryout, squad_id, request.at)
        await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", gone_words.told_blocked(begin, can), request.at)
    return await _done(db, tryout, request, table, begin, "blocked", squad_id)


@act(ActionKey.PRACTICE_OPEN, "coach")
async def open_again(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Let a closed turn be booked again."""
    table, begin = await _asked(db, tryout, begins)
    rules.check_closed(table, begin)
    await practice.free(db, tryout.id, begin)
    return await _done(db, tryout, request, table, begin, "opened", None)


@view(ActionKey.PRACTICE_FOR, "coach")
async def pick_squad(db: Snapshot, tryout: Tryout, request: Request, begins: int, page: int) -> Answer:
    """For which squad a turn is to be booked."""
    check_running(tryout)
    table, begin = await _asked(db, tryout, begins)
    table.check_free(begin, request.at)
    held = [(squad, len(table.held(squad.id))) for squad in await squads.squads(db, tryout.id)]
    return Replace(message=words.pick_squad(begin, held, page))


@act(ActionKey.PRACTICE_BOOKED_FOR, "coach")
async def book_for(db: Transaction, tryout: Tryout, request: Request, begins: int, *, picked: int) -> Answer:
    """Book a turn for a squad, whatever number it has."""
    check_running(tryout)
    table, begin = await _asked(db, tryout, begins)
    table.check_free(begin, request.at)
    squad_id = picked
    if squad_id not in table.squads:
        raise Refusal(Reason.SQUAD_GONE)
    await practice.hold(db, tryout.id, begin, squad_id)
    await plan_reminder(db, tryout, squad_id, begin, request.at)
    await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", room_words.told_booked(begin, by_coach=True), request.at)
    return await _done(db, tryout, request, table, begin, "booked", squad_id)


async def _asked(db: Snapshot, tryout: Tryout, begins: int) -> tuple[PracticeTable, datetime]:
    """All turns, and the one that is asked about."""
    return await the_table(db, tryout), begin_of(begins)


async def _done(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    before: PracticeTable,
    begin: datetime,
    what: str,
    squad_id: int | None,
) -> Answer:
    await turns_changed(db, tryout, before, [] if squad_id is None else [squad_id])
    await plan_openings(db, tryout, request.at)
    details = {} if squad_id is None else {"squad": squad_id}
    await audit(db, tryout, request, f"practice.{what}", begins=room_words.value(begin), **details)
    return await _shown(db, tryout, request, begin, words.SAID[what])


async def _shown(db: Snapshot, tryout: Tryout, request: Request, begin: datetime, said: str = "") -> Answer:
    table = await the_table(db, tryout)
    turn = table.by_begin.get(begin)
    if turn is None:
        table.check_slot(begin)
    names = await names_of(db, tryout)
    return Replace(message=words.turn_page(begin, turn, names, begin <= request.at, said))
