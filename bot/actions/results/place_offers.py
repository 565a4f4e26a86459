"""The place is offered to a squad, its captain answers, or the coach lets it lapse to the next in line."""

from collections.abc import Sequence
from datetime import datetime

from bot.actions.core.audit import append_entry, audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.core.roles import roles
from bot.actions.core.scheduled_jobs import job
from bot.actions.results.finality import doubt_of
from bot.actions.scoring.score_book import outcome_of, score_book
from bot.actions.squads.asking_student import me_of
from bot.rules.calendar.evening_of_school_day import reminder_before, school_day_ends
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.announce import check_announced
from bot.rules.results.finality import Doubt
from bot.rules.results.place_offers import (
    check_may_answer,
    check_may_lapse,
    is_over,
    may_be_given_back,
    next_in_line,
    read_days,
    still_owes,
)
from bot.words.core.action_keys import ActionKey
from bot.words.results import place_offers as words
from bot.words.scoring.result_view import ResultView
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.results import Offer, OfferState
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import outbox, place_offers, scheduled_jobs, squads, students
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.OFFER_PANEL, "coach")
async def offers_panel(db: Snapshot, tryout: Tryout, request: Request, page: int | None = None) -> Work[Answer]:
    """Who was asked, what they said, and who is next."""
    check_announced(tryout.announced_at)
    book, made = await score_book(db, tryout), await place_offers.offers(db, tryout.id)
    why = await doubt_of(db, tryout, request.at)
    if page is None:
        return lambda: Say(message=_panel(outcome_of(book), made, why, request.at))
    return lambda: Replace(message=_panel(outcome_of(book), made, why, request.at, page))


def _panel(result: ResultView, made: Sequence[Offer], why: Doubt | None, now: datetime, page: int = 0) -> Message:
    return words.offers_panel(result, made, next_in_line(result.standings, made), why, now, page)


@view(ActionKey.OFFER_ASK, "coach")
async def ask_offer(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Work[Answer]:
    """Open the form of an offer."""
    find = await _in_line(db, tryout, picked)
    return lambda: Open(form=words.offers_form(find()))


@act(ActionKey.OFFER_MADE, "coach")
async def offer(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Offer the place to a squad, in its own room."""
    squad = (await _in_line(db, tryout, squad_id))()
    days = read_days(request.fields.get("days", ""))
    what = request.fields.get("what", "").strip().rstrip(".") or words.USUAL
    until = school_day_ends(tryout.plan, request.at, days)
    offer_id = await place_offers.make_offer(db, tryout.id, squad.id, what, request.at, until)
    made = await _offer(db, tryout, offer_id)
    why = await doubt_of(db, tryout, request.at)
    message = words.offered(squad, made, await _captain(db, squad), why)
    await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", message, request.at)
    await scheduled_jobs.schedule_job(db, tryout.id, "offer", str(offer_id), until)
    reminder = reminder_before(tryout.plan, request.at, until)
    if reminder is not None:
        await scheduled_jobs.schedule_job(db, tryout.id, "offer-reminder", str(offer_id), reminder, until)
    await audit(db, tryout, request, "offer.made", squad=squad.id, offer=offer_id, days=days)
    return Say(message=words.made(squad, made))


@view(ActionKey.OFFER_ACCEPT)
async def sure_to_accept(db: Snapshot, tryout: Tryout, request: Request, offer_id: int) -> Answer:
    """Ask the captain once before accepting."""
    squad, made = await _mine_to_answer(db, tryout, request, offer_id)
    return Say(message=words.offers_sure(squad, made, "accepted", await doubt_of(db, tryout, request.at)))


@view(ActionKey.OFFER_DECLINE)
async def sure_to_decline(db: Snapshot, tryout: Tryout, request: Request, offer_id: int) -> Answer:
    """Ask the captain once before declining."""
    squad, made = await _mine_to_answer(db, tryout, request, offer_id)
    return Say(message=words.offers_sure(squad, made, "declined"))


@act(ActionKey.OFFER_ACCEPTED)
async def accept(db: Transaction, tryout: Tryout, request: Request, offer_id: int) -> Answer:
    """The squad takes the place."""
    return await _answer(db, tryout, request, offer_id, "accepted")


@act(ActionKey.OFFER_DECLINED)
async def decline(db: Transaction, tryout: Tryout, request: Request, offer_id: int) -> Answer:
    """The squad does not take the place."""
    return await _answer(db, tryout, request, offer_id, "declined")


async def _answer(db: Transaction, tryout: Tryout, request: Request, offer_id: int, answer: OfferState) -> Answer:
    squad, made = await _mine_to_answer(db, tryout, request, offer_id)
    why = await doubt_of(db, tryout, request.at)
    await _settle(db, tryout, request, squad, made, answer, why)
    me = await me_of(db, tryout, request)
    if me is None or me.id != squad.captain_id:
        return Replace(message=words.told_office(squad, answer, why))
    return Replace(message=words.thanks(answer, why))


@view(ActionKey.OFFER_SETTLE, "coach")
async def look_at(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """What the coach may note about an offer that is open, or accepted."""
    squad, made = await _offer_to(db, tryout, picked)
    if may_be_given_back(made):
        return Replace(message=words.may_give_back(squad, made))
    _check_open(squad, made)
    return Replace(message=words.settle(squad, made, is_over(made, request.at)))


@act(ActionKey.OFFER_LAPSED, "coach")
async def lapse(db: Transaction, tryout: Tryout, request: Request, offer_id: int) -> Answer:
    """Let an offer lapse after its last day, so that the next squad can be asked; not while a protest is open."""
    squad, made = await _offer_to(db, tryout, offer_id)
    _check_open(squad, made)
    why = await doubt_of(db, tryout, request.at)
    check_may_lapse(squad.name, made.answer_by, why, request.at)
    await _settle(db, tryout, request, squad, made, "lapsed", why)
    return Replace(message=await _panel_now(db, tryout, why, request.at))


@act(ActionKey.OFFER_GIVEN_BACK, "coach")
async def give_back(db: Transaction, tryout: Tryout, request: Request, offer_id: int) -> Answer:
    """A squad that had accepted cannot take the place after all, so that the next squad can be asked."""
    squad, made = await _offer_to(db, tryout, offer_id)
    if not await place_offers.give_back(db, made.id, request.at):
        raise Refusal(ResultReason.OFFER_SETTLED, squad=squad.name, state=words.STATES[made.state])
    await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", words.given_back_in_room(), request.at)
    await outbox.enqueue(db, tryout.id, "office", words.given_back(squad), request.at)
    await audit(db, tryout, request, "offer.given-back", squad=squad.id, offer=made.id)
    return Replace(message=await _panel_now(db, tryout, await doubt_of(db, tryout, request.at), request.at))


async def _panel_now(db: Snapshot, tryout: Tryout, why: Doubt | None, now: datetime) -> Message:
    book, made = await score_book(db, tryout), await place_offers.offers(db, tryout.id)
    return _panel(outcome_of(book), made, why, now)


async def _settle(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    squad: Squad,
    made: Offer,
    answer: OfferState,
    why: Doubt | None,
) -> None:
    if not await place_offers.settle_offer(db, made.id, answer, request.at):
        raise Refusal(ResultReason.OFFER_SETTLED, squad=squad.name, state=words.STATES[made.state])
    await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", words.told_squad(answer, why), request.at)
    await outbox.enqueue(db, tryout.id, "office", words.told_office(squad, answer, why), request.at)
    await audit(db, tryout, request, f"offer.{answer}", squad=squad.id, offer=made.id)


async def _captain(db: Snapshot, squad: Squad) -> tuple[Student, ...]:
    found = None if squad.captain_id is None else await students.student(db, squad.captain_id)
    return () if found is None else (found,)


@job("offer-reminder")
async def remind(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Shortly before the deadline the squad is reminded, if it still owes the answer."""
    made = await _offer(db, tryout, int(row.key))
    squad = await squads.squad(db, made.squad_id)
    if squad is not None and still_owes(made, tryout.state):
        message = words.reminder(squad, made, await _captain(db, squad))
        await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", message, now, made.answer_by)


@job("offer")
async def overdue(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """At the deadline the office is told; only the coach lets an offer lapse."""
    made = await _offer(db, tryout, int(row.key))
    squad = await squads.squad(db, made.squad_id)
    if squad is not None and still_owes(made, tryout.state):
        await outbox.enqueue(db, tryout.id, "office", words.overdue(squad), now)
        await append_entry(db, tryout.id, now, "clock", "offer.overdue", {"offer": made.id, "squad": squad.id})


async def _in_line(db: Snapshot, tryout: Tryout, squad_id: int) -> Work[Squad]:
    """A squad that may be offered the place now, once the standings are worked out; or a Refusal: `not_in_line`."""
    check_announced(tryout.announced_at)
    squad, book = await squads.squad(db, squad_id), await score_book(db, tryout)
    made = await place_offers.offers(db, tryout.id)

    def find() -> Squad:
        if squad is None or squad.id not in next_in_line(outcome_of(book).standings, made):
            raise Refusal(ResultReason.NOT_IN_LINE, squad=squad.name if squad else "this squad")
        return squad

    return find


async def _offer(db: Snapshot, tryout: Tryout, offer_id: int) -> Offer:
    found = await place_offers.offer(db, offer_id)
    if found is None or found.tryout_id != tryout.id:
        raise Refusal(Reason.OUT_OF_DATE)
    return found


async def _offer_to(db: Snapshot, tryout: Tryout, offer_id: int) -> tuple[Squad, Offer]:
    made = await _offer(db, tryout, offer_id)
    squad = await squads.squad(db, made.squad_id)
    if squad is None:
        raise Refusal(Reason.OUT_OF_DATE)
    return squad, made


def _check_open(squad: Squad, made: Offer) -> None:
    if made.state != "open":
        raise Refusal(ResultReason.OFFER_SETTLED, squad=squad.name, state=words.STATES[made.state])


async def _mine_to_answer(db: Snapshot, tryout: Tryout, request: Request, offer_id: int) -> tuple[Squad, Offer]:
    """An open offer that this person may answer: the squad's captain, or a coach who was told in person."""
    squad, made = await _offer_to(db, tryout, offer_id)
    me = await me_of(db, tryout, request)
    check_may_answer(squad, None if me is None else me.id, "coach" in await roles(db, tryout, request))
    _check_open(squad, made)
    return squad, made
