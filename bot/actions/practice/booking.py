"""What squads do at the practice table: book a turn, and give one back."""

from zoneinfo import ZoneInfo

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.practice.practice_table import (
    begin_of,
    check_running,
    plan_openings,
    the_table,
    turns_changed,
)
from bot.actions.practice.turn_reminders import drop_reminder, plan_reminder
from bot.actions.squads.asking_student import my_squad_of
from bot.actions.squads.squads_changed import tell_squad
from bot.rules.practice import booking as rules
from bot.rules.practice.practice_table import PracticeTable
from bot.words.core.action_keys import ActionKey
from bot.words.practice import booking as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import practice
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PRACTICE_BOOK)
async def pick(db: Snapshot, tryout: Tryout, request: Request, page: int | None = None) -> Answer:
    """Show the turns that my squad may book now."""
    table, squad = await _table_and_squad(db, tryout, request)
    offered = rules.to_book(table, squad.id, request.at)
    return _paged(page, words.pick(ZoneInfo(tryout.plan.zone), offered, page or 0))


@act(ActionKey.PRACTICE_BOOKED)
async def book(db: Transaction, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Book the turn that was picked; any member may."""
    table, squad = await _table_and_squad(db, tryout, request)
    begin = begin_of(picked)
    rules.check_book(table, squad.id, begin, request.at)
    await practice.hold(db, tryout.id, begin, squad.id)
    await plan_reminder(db, tryout, squad.id, begin, request.at)
    await tell_squad(db, tryout, squad, words.told_booked(begin), request)
    await turns_changed(db, tryout, table, [squad.id])
    await plan_openings(db, tryout, request.at)
    await audit(db, tryout, request, "practice.book", squad=squad.id, begins=words.value(begin))
    more = bool(rules.bookable(await the_table(db, tryout), squad.id, request.at))
    return Replace(message=words.booked(begin, squad, more))


@view(ActionKey.PRACTICE_GIVE)
async def pick_back(db: Snapshot, tryout: Tryout, request: Request, page: int | None = None) -> Answer:
    """Show the turns that my squad may give back now."""
    table, squad = await _table_and_squad(db, tryout, request)
    found = rules.to_give_back(table, squad.id, request.at)
    return _paged(page, words.pick_back(ZoneInfo(tryout.plan.zone), found, page or 0))


@act(ActionKey.PRACTICE_GIVEN)
async def give_back(db: Transaction, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Give the turn back that was picked; any member may."""
    table, squad = await _table_and_squad(db, tryout, request)
    begin = begin_of(picked)
    rules.check_give_back(table, squad.id, begin, request.at)
    await practice.free(db, tryout.id, begin)
    await drop_reminder(db, tryout, squad.id, begin, request.at)
    await tell_squad(db, tryout, squad, words.told_given(begin), request)
    await turns_changed(db, tryout, table, [squad.id])
    await plan_openings(db, tryout, request.at)
    await audit(db, tryout, request, "practice.give", squad=squad.id, begins=words.value(begin))
    return Replace(message=words.given(begin, squad))


async def _table_and_squad(db: Snapshot, tryout: Tryout, request: Request) -> tuple[PracticeTable, Squad]:
    """The table while turns can be booked and given back, and the squad of whoever asks.

    Raises:
        Refusal: there is no such table, it is not the time for it, or whoever asks is in no squad.
    """
    table = await the_table(db, tryout)
    check_running(tryout)
    _, squad, _ = await my_squad_of(db, tryout, request)
    return table, squad


def _paged(page: int | None, message: Message) -> Answer:
    """A first page is said, another one takes its place."""
    return Say(message=message) if page is None else Replace(message=message)
