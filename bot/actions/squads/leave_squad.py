"""A student leaves the own squad."""

from bot.actions.core.dispatch import act, view
from bot.actions.core.roles import roles
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.asking_student import is_open, my_squad_of
from bot.actions.squads.exclusive_roles import would_help
from bot.actions.squads.give_up_seat import give_up_seat
from bot.actions.squads.keep_correction import keep_move
from bot.rules.squads import leave_squad as rules
from bot.words.core.action_keys import ActionKey
from bot.words.squads import leave_squad as words
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import corrections, outbox
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.SQUAD_LEAVE)
async def sure_to_leave(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before someone leaves."""
    await _check_may_leave(db, tryout, request)
    me, squad, members = await my_squad_of(db, tryout, request)
    return Replace(message=words.sure_to_leave(squad, len(members) == 1, rules.leads_then(squad, me, members)))


@act(ActionKey.SQUAD_LEFT)
async def leave(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Leave the squad that was shown; in a squad of which something else would be said, that is said first.

    Where somebody leaves to help, after sign-up had closed, the coaches read it and can undo it.
    """
    helps = await _check_may_leave(db, tryout, request)
    me, squad, members = await my_squad_of(db, tryout, request)
    follows = (squad, len(members) == 1, rules.leads_then(squad, me, members))
    if stamp != words.leave_stamp(*follows):
        return Replace(message=words.sure_to_leave(*follows, changed=True))
    late = rules.coaches_read_it(is_open(tryout, request))
    before = await corrections.seat_of(db, me) if late else {}
    await give_up_seat(db, tryout, request, me, squad)
    if late:
        await keep_move(db, request, me, before)
        await outbox.enqueue(db, tryout.id, "office", words.helper_left(me, squad), request.at)
    if helps:
        return Replace(message=words.left_to_help(squad, "coach" in await roles(db, tryout, request)))
    return Replace(message=words.left(squad))


async def _check_may_leave(db: Snapshot, tryout: Tryout, request: Request) -> bool:
    """While squads may change; whoever helps to run the try-out may always, to do so again. Whether the person does."""
    helps = await would_help(db, tryout, request)
    rules.check_may_leave(helps, tryout.state, schedule_of(tryout).signup_closes, request.at)
    return helps
