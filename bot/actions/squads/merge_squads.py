"""Two squads that have become too small are made one: hand-ins, turns, rooms, sheets and panels follow."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.judging.conflicts_of_interest import note_ties
from bot.actions.judging.sheets_follow_panels import judges_per_squad, tied_seats
from bot.actions.practice.practice_table import plan_openings
from bot.actions.practice.turn_reminders import drop_reminder, plan_reminder
from bot.actions.squads.members import by_squad
from bot.actions.squads.squads_admin import squad_of, squad_page
from bot.actions.squads.squads_changed import board_changed, every_squad_changed, tell_squad
from bot.actions.squads.take_squad_out import take_out
from bot.rules.core.typed_reason import reason_of
from bot.rules.judging.judged_rubrics import rubrics
from bot.rules.squads import merge_squads as rules
from bot.rules.squads.captain import next_captain
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.written_given_back import with_written
from bot.words.squads import merge_squads as words
from storage.records.message import Answer, Message, Open, Replace
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import decisions, judges, live_messages, merge_squads, more_time, outbox, panels, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.MERGE_PICK, "coach")
async def pick(db: Snapshot, tryout: Tryout, request: Request, page: int, squad_id: int) -> Answer:
    """Pick the squad that this one becomes part of."""
    goes = await squad_of(db, tryout, squad_id)
    rules.check_may_merge(tryout.state)
    sizes = [(one, len(members)) for one, members in await by_squad(db, tryout) if one is not None]
    return Replace(message=words.pick_squad(goes, rules.in_order(goes, sizes), page))


@view(ClassKey.MERGE_ASK, "coach")
async def ask_merge(db: Snapshot, tryout: Tryout, request: Request, squad_id: int, *, picked: int) -> Answer:
    """Show what follows, before it does."""
    goes, stays = await _pair(db, tryout, squad_id, picked)
    return Replace(message=await _sure(db, tryout, request, goes, stays, await _done(db, tryout, goes, stays)))


async def _sure(
    db: Snapshot, tryout: Tryout, request: Request, goes: Squad, stays: Squad, done: list[rules.Done], **more: bool
) -> Message:
    members = [await squads.members(db, one.id) for one in (goes, stays)]
    turns = len(await merge_squads.held_turns(db, goes.id, request.at))
    size = len(members[0]) + len(members[1])
    return words.sure_to_merge(goes, stays, members, turns, done, rules.too_large(tryout.plan, size), **more)


async def _done(db: Snapshot, tryout: Tryout, goes: Squad, stays: Squad) -> list[rules.Done]:
    """The events in which the squad that goes has attempts or marks."""
    theirs, others = await merge_squads.scored(db, goes.id), await merge_squads.scored(db, stays.id)
    return [
        rules.Done(event, *theirs[event.key], both=event.key in others)
        for event in tryout.plan.events
        if event.key in theirs
    ]


@view(ClassKey.MERGE_WHY, "coach")
async def ask_reason(
    db: Snapshot, tryout: Tryout, request: Request, squad_id: int, other_id: int, stamp: str = ""
) -> Answer:
    """Open the form for the reason, if both squads have done what was shown."""
    goes, stays = await _pair(db, tryout, squad_id, other_id)
    done = await _done(db, tryout, goes, stays)
    if stamp != words.stamp_of(done):
        return Replace(message=await _sure(db, tryout, request, goes, stays, done, changed=True))
    return Open(form=words.reason_form(goes, stays, done))


@act(ClassKey.MERGED, "coach")
async def merge(
    db: Transaction, tryout: Tryout, request: Request, squad_id: int, other_id: int, stamp: str = ""
) -> Answer:
    """Make the two squads one; where one of them was scored after the form had opened, that is shown first."""
    goes, stays = await _pair(db, tryout, squad_id, other_id)
    done = await _done(db, tryout, goes, stays)
    if stamp != words.stamp_of(done):
        again = await _sure(db, tryout, request, goes, stays, done, changed=True)
        return Replace(message=with_written(again, request.fields))
    reason = reason_of(request)
    turns = await merge_squads.held_turns(db, goes.id, request.at)
    newcomers = await squads.members(db, goes.id)
    tied = {judge for squad, judge in await tied_seats(db, tryout) if squad == goes.id}
    until = rules.more_time_of(await more_time.extended(db, goes.id), await more_time.extended(db, stays.id))
    if until is not None:
        await more_time.extend(db, stays.id, until, request.at)
    await merge_squads.merge(db, goes, stays, request.at)
    await take_out(db, goes.id)
    for one in done:
        if rules.theirs_count(one.both, chosen=request.fields.get(one.field) == words.THEIRS):
            await merge_squads.swap_event(db, goes.id, stays.id, one.event.key)
    for begin in turns:
        await drop_reminder(db, tryout, goes.id, begin, request.at)
        await plan_reminder(db, tryout, stays.id, begin, request.at)
    captain = next_captain(stays, await squads.members(db, stays.id))
    await squads.set_captain(db, stays.id, captain.id if captain else None)
    decision = await decisions.decide(db, tryout.id, "merged", stays.id, None, reason, request.at)
    await tell_squad(db, tryout, stays, words.told(goes, newcomers, len(turns)), request)
    await board_changed(db, tryout, goes.id, stays.id)
    await every_squad_changed(db, tryout)
    await plan_openings(db, tryout, request.at)
    await live_messages.mark_stale(db, tryout.id, f"hand-in/{stays.id}/*")
    await _judges_follow(db, tryout, request, tied, stays)
    await audit(db, tryout, request, "decision.merged", decision=decision, squad=stays.id, gone=goes.id)
    return Replace(message=await squad_page(db, tryout, await squad_of(db, tryout, stays.id)))


async def _judges_follow(db: Transaction, tryout: Tryout, request: Request, tied: set[int], squad: Squad) -> None:
    """Who may not mark the squad that is gone may not mark this one; the coach is told where judges are missing."""
    known = {judge for other, judge in await tied_seats(db, tryout) if other == squad.id}
    ties = [(judge, squad) for judge in await judges.judges(db, tryout.id) if judge.id in tied - known]
    await note_ties(db, tryout, request, ties, "coach")
    lacking = []
    for event, rubric in rubrics(tryout.plan):
        wanted = await judges_per_squad(db, tryout, event, rubric)
        seats = await panels.seats(db, tryout.id, event.key, rubric.key)
        mine = sum(seat.squad_id == squad.id for seat in seats)
        if wanted is not None and rules.lacks_judges(len(seats), mine, wanted):
            lacking.append((event, mine, wanted))
    if lacking:
        await outbox.enqueue(db, tryout.id, "office", words.judges_missing(squad, lacking), request.at)


async def _pair(db: Snapshot, tryout: Tryout, squad_id: int, other_id: int) -> tuple[Squad, Squad]:
    """The squad that goes and the one that stays, or a Refusal."""
    rules.check_may_merge(tryout.state)
    goes, stays = await squad_of(db, tryout, squad_id), await squad_of(db, tryout, other_id)
    rules.check_two(goes, stays)
    return goes, stays
