"""A plan file is taken: to begin a try-out, or in the place of the plan that counts now."""

from functools import partial

from bot.actions.core.dispatch import Work, act, view
from bot.actions.plan.begin_tryout import create
from bot.actions.plan.change_plan import propose
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.begin_tryout import check_ahead
from bot.rules.plan.plan_problems import BadPlan
from bot.rules.plan.read_plan import read_plan
from bot.words.core.action_keys import ActionKey
from bot.words.plan import use_plan_file as words
from storage.records.message import Answer, Message, Open, Say
from storage.records.plan import Plan
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PLAN_FILE, "coach", unbegun=True)
async def file_form(db: Snapshot, tryout: Tryout | None, request: Request) -> Answer:
    """Open the form that takes a plan file."""
    return Open(form=words.file_form(tryout.state if tryout else None))


async def _admit_file(db: Snapshot, tryout: Tryout | None, request: Request) -> None:
    """Whoever may use a plan file at all may send one at any time."""


async def _read_file(db: Snapshot, tryout: Tryout | None, request: Request) -> Work[Plan | Message]:
    """Read the file beside the event loop: a large one must keep nobody waiting."""
    if "plan" not in request.uploads:
        raise Refusal(Reason.NO_FILE)
    if request.uploads["plan"].failed:
        raise Refusal(Reason.FILE_NOT_FETCHED)
    return partial(_plan_or_mistakes, request.uploads["plan"].data)


def _plan_or_mistakes(toml: bytes) -> Plan | Message:
    try:
        return read_plan(toml)
    except BadPlan as bad:
        return words.bad_file(bad.problems, bad.left_out)


@act(ActionKey.PLAN_USE, "coach", before=_read_file, admits=_admit_file, unbegun=True)
async def use_file(db: Transaction, tryout: Tryout | None, request: Request, *, prepared: Plan | Message) -> Answer:
    """Take a plan file: to begin a try-out, or in the place of the plan that counts now."""
    if isinstance(prepared, Message):
        return Say(message=prepared)
    plan = prepared
    if tryout is not None:
        return await propose(db, tryout, request, plan, words.file_used())
    check_ahead(plan, request.at)
    return await create(db, request, plan)
