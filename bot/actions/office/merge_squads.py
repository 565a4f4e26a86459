"""Two squads that have become too small are made one: hand-ins, turns, rooms and live messages follow."""

from bot.actions.core.dispatch import act, audit, view
from bot.actions.practice.practice_state import drop_reminder, plan_openings, plan_reminder
from bot.actions.squads.squad_changes import board_changed, by_squad, every_squad_changed, tell_squad
from bot.actions.squads.squads_admin import squad_page
from bot.actions.squads.students_admin import reason_of, squad_of
from bot.rules.core.class_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from bot.rules.squads import eligibility
from bot.words.core.class_keys import ClassKey
from bot.words.office import merge_squads as words
from storage.records.message import Answer, Open, Replace
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import decisions, merging, queueing, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.MERGE_PICK, "coach")
async def pick(db: Snapshot, tryout: Tryout, request: Request, page: int, squad_id: int) -> Answer:
    """Pick the squad that this one becomes part of."""
    goes = await squad_of(db, tryout, squad_id)
    _check_may(tryout)
    sizes = [
        (one, len(members)) for one, members in await by_squad(db, tryout) if one is not None and one.id != goes.id
    ]
    sizes.sort(key=lambda row: (row[0].section != goes.section, row[1]))
    return Replace(message=words.pick_squad(goes, sizes, page))


@view(ClassKey.MERGE_ASK, "coach")
async def ask(db: Snapshot, tryout: Tryout, request: Request, squad_id: int, *, picked: int) -> Answer:
    """Show what follows, before it does."""
    goes, stays = await _pair(db, tryout, squad_id, picked)
    members = [await squads.members(db, one.id) for one in (goes, stays)]
    turns = len(await merging.held_turns(db, goes.id, request.at))
    attempts, sheets = await merging.scored(db, goes.id)
    size = len(members[0]) + len(members[1])
    message = words.sure_to_merge(goes, stays, members, turns, attempts, sheets, size > tryout.plan.squads.largest)
    return Replace(message=message)


@view(ClassKey.MERGE_WHY, "coach")
async def ask_reason(db: Snapshot, tryout: Tryout, request: Request, squad_id: int, other_id: int) -> Answer:
    """Open the form for the reason."""
    goes, stays = await _pair(db, tryout, squad_id, other_id)
    return Open(form=words.reason_form(goes, stays))


@act(ClassKey.MERGED, "coach")
async def merge(db: Transaction, tryout: Tryout, request: Request, squad_id: int, other_id: int) -> Answer:
    """Make the two squads one."""
    goes, stays = await _pair(db, tryout, squad_id, other_id)
    reason = reason_of(request)
    turns = await merging.held_turns(db, goes.id, request.at)
    newcomers = await squads.members(db, goes.id)
    await merging.merge(db, goes, stays, request.at)
    for begin in turns:
        await drop_reminder(db, tryout, goes.id, begin, request.at)
        await plan_reminder(db, tryout, stays.id, begin, request.at)
    captain = eligibility.next_captain(stays, await squads.members(db, stays.id))
    await squads.set_captain(db, stays.id, captain.id if captain else None)
    decision = await decisions.decide(db, tryout.id, "merged", stays.id, None, reason, request.at)
    await tell_squad(db, tryout, stays, words.told(goes, newcomers, len(turns)), request)
    await board_changed(db, tryout, goes.id, stays.id)
    await every_squad_changed(db, tryout)
    await plan_openings(db, tryout, request.at)
    await queueing.mark_stale(db, tryout.id, f"hand-in/{stays.id}/*")
    await queueing.mark_stale(db, tryout.id, "judge/*")
    await audit(db, tryout, request, "decision.merged", decision=decision, squad=stays.id, gone=goes.id)
    return Replace(message=await squad_page(db, tryout, await squad_of(db, tryout, stays.id)))


async def _pair(db: Snapshot, tryout: Tryout, squad_id: int, other_id: int) -> tuple[Squad, Squad]:
    """The squad that goes and the one that stays, or a Refusal."""
    _check_may(tryout)
    goes, stays = await squad_of(db, tryout, squad_id), await squad_of(db, tryout, other_id)
    if goes.id == stays.id:
        raise Refusal(ClassReason.MERGE_SAME)
    return goes, stays


def _check_may(tryout: Tryout) -> None:
    """Squads can be merged until judging is closed."""
    if tryout.state not in eligibility.MAY_COME_LATE:
        raise Refusal(ClassReason.MERGE_LATE)
