"""A student says in private whom they would like to be with, and rather not."""

from bot.actions.core.dispatch import act, view
from bot.actions.squads.asking_student import me_of
from bot.actions.squads.sign_up import check_may_sign_up
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.wishes import check_may_wish, others_in_order
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import wishes as words
from storage.records.message import Answer, Replace, Say
from storage.records.people import Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import students, wishes
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.WISHES)
async def my_wishes(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show my wishes."""
    me, others = await _class(db, tryout, request)
    return Say(message=words.page(others, await wishes.wishes_of(db, me.id), 0))


@view(ClassKey.WISHES_PAGE)
async def page(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Another page of my section."""
    me, others = await _class(db, tryout, request)
    return Replace(message=words.page(others, await wishes.wishes_of(db, me.id), page))


@act(ClassKey.WISH_WITH)
async def wish_with(
    db: Transaction, tryout: Tryout, request: Request, page: int, stamp: str = "", *, picked: tuple[int, ...]
) -> Answer:
    """Say whom I would like to be with."""
    return await _wished(db, tryout, request, page, stamp, picked, True)


@act(ClassKey.WISH_NOT)
async def wish_not(
    db: Transaction, tryout: Tryout, request: Request, page: int, stamp: str = "", *, picked: tuple[int, ...]
) -> Answer:
    """Say with whom I would rather not be."""
    return await _wished(db, tryout, request, page, stamp, picked, False)


async def _wished(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    page: int,
    stamp: str,
    picked: tuple[int, ...],
    together: bool,
) -> Answer:
    me, others = await _class(db, tryout, request)
    shown = words.on_page(others, page)
    if stamp != words.stamp_of(shown):
        return Replace(message=words.page(others, await wishes.wishes_of(db, me.id), page, changed=True))
    if not set(picked) <= {one.id for one in shown}:
        raise Refusal(Reason.OUT_OF_DATE)
    await wishes.set_wishes(db, me.id, [one.id for one in shown], picked, together)
    # Nothing of this is noted in the log: whom somebody would rather not be with must be forgotten with them.
    return Replace(message=words.page(others, await wishes.wishes_of(db, me.id), page))


async def _class(db: Snapshot, tryout: Tryout, request: Request) -> tuple[Student, list[Student]]:
    """Who asks, without a squad, and everybody else of that section, by name."""
    me = await me_of(db, tryout, request)
    await check_may_sign_up(db, tryout, request, me)
    one = check_may_wish(me)
    return one, others_in_order(one, await students.students(db, tryout.id))
