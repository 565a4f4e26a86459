"""All turns of the practice table, as the coach asks for them: looked at, booked and given back for a squad."""

from collections.abc import Callable
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
from bot.rules.practice import all_turns_admin as rules
from bot.rules.practice.booking import is_running
from bot.rules.practice.first_round_draw import may_draw
from bot.rules.practice.practice_table import PracticeTable
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import PAGE
from bot.words.practice import all_turns_admin as words
from bot.words.practice import booking as room_words
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
    draws = is_running(tryout.state) and may_draw(table.lot, now)
    found = await squads.squads(db, tryout.id)
    return words.practice_panel(ZoneInfo(tryout.plan.zone), table, found, page, draws, said)


@view(ActionKey.PRACTICE_TURN, "coach")
async def one_turn(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """One turn, and what can be done with it."""
    return await turn_shown(db, tryout, request, begin_of(picked))


@view(ActionKey.PRACTICE_FOR, "coach")
async def pick_squad(db: Snapshot, tryout: Tryout, request: Request, begins: int, page: int) -> Answer:
    """For which squad a turn is to be booked."""
    check_running(tryout)
    table, begin = await asked(db, tryout, begins)
    table.check_free(begin, request.at)
    held = [(squad, len(table.held(squad.id))) for squad in await squads.squads(db, tryout.id)]
    return Replace(message=words.pick_squad(begin, held, page))


@act(ActionKey.PRACTICE_BOOKED_FOR, "coach")
async def book_for(db: Transaction, tryout: Tryout, request: Request, begins: int, *, picked: int) -> Answer:
    """Book a turn for a squad, whatever number it has."""
    check_running(tryout)
    table, begin = await asked(db, tryout, begins)
    squad_id = picked
    rules.check_may_book_for(table, begin, squad_id, request.at)
    await practice.hold(db, tryout.id, begin, squad_id)
    await plan_reminder(db, tryout, squad_id, begin, request.at)
    await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", room_words.told_booked(begin, by_coach=True), request.at)
    await changed(db, tryout, request, table, begin, "booked", squad_id)
    return await turn_shown(db, tryout, request, begin, words.BOOKED)


@act(ActionKey.PRACTICE_RELEASE, "coach")
async def give_back_for(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Give a squad's turn back for it, however late."""
    table, begin = await asked(db, tryout, begins)
    squad_id = rules.check_may_give_back_for(table, begin, request.at)
    await practice.free(db, tryout.id, begin)
    await squad_is_told(db, tryout, request, squad_id, begin, words.told_taken_back)
    await changed(db, tryout, request, table, begin, "released", squad_id)
    return await turn_shown(db, tryout, request, begin, words.GIVEN_BACK)


async def asked(db: Snapshot, tryout: Tryout, begins: int) -> tuple[PracticeTable, datetime]:
    """All turns, and the one that is asked about."""
    return await the_table(db, tryout), begin_of(begins)


async def changed(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    before: PracticeTable,
    begin: datetime,
    what: str,
    squad_id: int | None,
) -> None:
    """Something was done with a turn: it is shown anew to whom it concerns, and noted."""
    await turns_changed(db, tryout, before, [] if squad_id is None else [squad_id])
    await plan_openings(db, tryout, request.at)
    details = {} if squad_id is None else {"squad": squad_id}
    await audit(db, tryout, request, f"practice.{what}", begins=room_words.value(begin), **details)


async def turn_shown(db: Snapshot, tryout: Tryout, request: Request, begin: datetime, said: str = "") -> Answer:
    """One turn, and what can be done with it; under it what was `said` of what is done."""
    table = await the_table(db, tryout)
    turn = table.by_begin.get(begin)
    if turn is None:
        table.check_slot(begin)
    names = await names_of(db, tryout)
    return Replace(message=words.turn_page(begin, turn, names, begin <= request.at, said))


async def squad_is_told(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    squad_id: int,
    begin: datetime,
    told: Callable[[datetime, datetime | bool], Message],
) -> None:
    """A squad has its turn no more: nothing reminds of it, and the squad is told, and whether it may book another."""
    await drop_reminder(db, tryout, squad_id, begin, request.at)
    can = await may_book_now(db, tryout, squad_id, request.at)
    await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", told(begin, can), request.at)
