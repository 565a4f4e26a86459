"""A student whom the coach entered gets an account later, and links it by a code that the coach hands over."""

from bot.actions.core.dispatch import act, audit, view
from bot.actions.squads.accounts import link_account
from bot.actions.squads.students_admin import student_with_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.codes import link_code, tidy_code
from bot.words.core.class_keys import ClassKey
from bot.words.squads import link_codes as words
from storage.records.message import Answer, Open, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot, Transaction


@act(ClassKey.LINK_CODE, "coach")
async def make_code(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Give a student without an account a code; a new one takes the place of an earlier one."""
    one, _ = await student_with_squad(db, tryout, student_id)
    if one.platform_id is not None:
        raise Refusal(Reason.HAS_ACCOUNT, name=one.name)
    code = link_code(int.from_bytes(db.random_bytes(8)))
    await squads.set_link_code(db, one.id, code)
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
    one = await squads.by_link_code(db, tryout.id, tidy_code(request.field("code")))
    if one is None:
        one = await squads.student_of(db, tryout.id, request.who)
        if one is None or one.squad_id is None:
            raise Refusal(Reason.NO_SUCH_LINK)
    else:
        await link_account(db, tryout, request, one, request.who)
        await squads.set_link_code(db, one.id, None)
    squad = await squads.squad(db, one.squad_id) if one.squad_id is not None else None
    return Say(message=words.linked(one, squad))
