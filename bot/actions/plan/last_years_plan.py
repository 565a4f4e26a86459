"""A try-out begins with last year's plan and a new date."""

from bot.actions.core.dispatch import act, view
from bot.actions.plan.begin_tryout import create, read_brief
from bot.actions.plan.form_mistakes import Reading, checked
from bot.rules.core.parse_typed import read_list
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.begin_tryout import check_ahead, check_none
from bot.rules.plan.last_years_plan import moved_to
from bot.words.core.action_keys import ActionKey
from bot.words.plan import last_years_plan as words
from bot.words.plan.form_mistakes import mistakes
from storage.records.message import Answer, Open, Say
from storage.records.plan import Plan
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PLAN_AGAIN, "manager", unbegun=True)
async def again(db: Snapshot, tryout: Tryout | None, request: Request) -> Answer:
    """Open the form that begins with the last plan."""
    check_none(tryout)
    return Open(form=words.again_form(await _last_plan(db, request)))


@act(ActionKey.PLAN_REUSED, "manager", unbegun=True)
async def reused(db: Transaction, tryout: Tryout | None, request: Request) -> Answer:
    """Begin a try-out with the last plan and a new date; days of the past year are left out."""
    check_none(tryout)
    last = await _last_plan(db, request)
    typed = [request.fields.get(name, "") for name in ("date", "time", "sections")]
    reading = Reading()
    brief = read_brief(reading, typed[0], typed[1])
    if brief is None:
        return Say(message=mistakes(reading.lines, (), ActionKey.PLAN_AGAIN, request.fields))
    sections = read_list(typed[2])
    plan = reading.take(lambda: checked(moved_to(last, brief, sections)))
    if plan is not None:
        reading.take(lambda: check_ahead(plan, request.at))
    if reading.lines or plan is None:
        return Say(message=mistakes(reading.lines, (), ActionKey.PLAN_AGAIN, request.fields))
    return await create(db, request, plan)


async def _last_plan(db: Snapshot, request: Request) -> Plan:
    last = await tryouts.latest(db, request.server_id) if request.server_id is not None else None
    if last is None:
        raise Refusal(Reason.NO_LAST_PLAN)
    return last.plan
