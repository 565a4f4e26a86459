"""Which chat account is which student: linked by a code from the coach, let go of when it was somebody else."""

from bot.actions.core.audit import actor_of, audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.exclusive_roles import check_may_compete
from bot.actions.squads.squads_changed import board_changed
from bot.actions.squads.students_admin import student_with_squad
from bot.rules.squads import student_accounts as rules
from bot.rules.squads.join_and_link_codes import link_code, tidy_code
from bot.words.core.action_keys import ActionKey
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import student_accounts as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.people import Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads, students
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PEOPLE_LET_GO, "coach")
async def sure_to_let_go(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Ask once before a student's account is let go."""
    one, _ = await student_with_squad(db, tryout, student_id)
    rules.check_has_account(one)
    return Replace(message=words.sure_to_let_go(one))


@act(ActionKey.PEOPLE_LET_GONE, "coach")
async def let_go(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Let a student's account go: name, squad and what was handed in stay; the account sees nothing of it any more."""
    one, _ = await student_with_squad(db, tryout, student_id)
    rules.check_has_account(one)
    await students.set_account(db, one, None)
    await board_changed(db, tryout, *([one.squad_id] if one.squad_id else []))
    await audit(db, tryout, request, "student.account-let-go", student=one.id)
    return Replace(message=words.let_go(one))


async def link_account(db: Transaction, tryout: Tryout, request: Request, one: Student, account: int) -> None:
    """Give a student without an account one; the student's squad room is open to it from then on.

    Raises:
        Refusal: `has_account` (name), `account_in_use` (name), `helper_cannot_compete`.
    """
    rules.check_may_link(one, await students.student_of(db, tryout.id, account))
    await check_may_compete(db, tryout, account)
    await students.set_account(db, one, account)
    await board_changed(db, tryout, *([one.squad_id] if one.squad_id else []))
    await audit(db, tryout, request, "student.account", student=one.id, person=actor_of(tryout, account))


@act(ClassKey.LINK_CODE, "coach")
async def make_code(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Give a student without an account a code; a new one takes the place of an earlier one."""
    one, _ = await student_with_squad(db, tryout, student_id)
    rules.check_has_none(one)
    code = link_code(int.from_bytes(db.random_bytes(8)))
    await students.set_link_code(db, one.id, code)
    await audit(db, tryout, request, "student.link-code", student=one.id)
    return Say(message=words.code(one, code))


@view(ClassKey.LINK_ASK)
async def ask_link_code(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for the code."""
    return Open(form=words.code_form())


@act(ClassKey.LINKED)
async def link(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Link the account that asks to the student whose code was typed; the code works once.

    Whoever has a squad is told so again: the first answer may not have reached the phone.
    """
    one = await students.by_link_code(db, tryout.id, tidy_code(request.field("code")))
    if one is None:
        one = rules.check_linked_before(await students.student_of(db, tryout.id, request.who))
    else:
        await link_account(db, tryout, request, one, request.who)
        await students.set_link_code(db, one.id, None)
    squad = await squads.squad(db, one.squad_id) if one.squad_id is not None else None
    return Say(message=words.linked(one, squad))
