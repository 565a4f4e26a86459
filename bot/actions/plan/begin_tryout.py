"""How a try-out begins: with the built-in plan; with a file or last year's: `use_plan_file`, `last_years_plan`."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.office.office import office_panel
from bot.actions.plan.form_mistakes import Reading
from bot.rules.core.parse_typed import read_clock, read_date, read_list
from bot.rules.plan.begin_tryout import check_ahead, check_none, read_with
from bot.rules.plan.read_plan import fingerprint
from bot.words.core.action_keys import ActionKey
from bot.words.plan import begin_tryout as words
from bot.words.plan.builtin_plan import builtin_plan
from bot.words.plan.form_mistakes import mistakes
from storage.records.message import Answer, Open, Say
from storage.records.plan import Plan
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import helpers, tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PLAN_BEGIN, "manager", unbegun=True)
async def begin_tryout(db: Snapshot, tryout: Tryout | None, request: Request, *typed: str) -> Answer:
    """Open the form that begins a try-out with the built-in plan."""
    check_none(tryout)
    return Open(form=words.begin_form(typed))


@act(ActionKey.PLAN_BEGUN, "manager", unbegun=True)
async def begun(db: Transaction, tryout: Tryout | None, request: Request) -> Answer:
    """Begin a try-out with the built-in plan."""
    check_none(tryout)
    typed = [request.fields.get(name, "") for name in ("date", "time", "zone", "sections")]
    reading = Reading()
    brief = read_brief(reading, typed[0], typed[1])
    example = read_with(brief, request.at)
    plan = reading.take(lambda: builtin_plan(example, typed[2].strip(), read_list(typed[3])))
    if brief is not None and plan is not None:
        reading.take(lambda: check_ahead(plan, request.at))
    if reading.lines or plan is None:
        return Say(message=mistakes(reading.lines, typed, ActionKey.PLAN_BEGIN))
    return await create(db, request, plan)


async def create(db: Transaction, request: Request, plan: Plan) -> Answer:
    """Begin; whoever does so is a coach from then on."""
    assert request.server_id is not None
    tryout_id = await tryouts.create(db, request.server_id, plan, request.at)
    await helpers.add_officer(db, tryout_id, request.who, request.name, "coach")
    tryout = await tryouts.get(db, tryout_id)
    await audit(db, tryout, request, "tryout.begin", sha256=fingerprint(plan))
    message = await office_panel(db, tryout, request)
    return Say(message=message.model_copy(update={"text": f"{words.begun(plan)}\n\n{message.text}"}))


def read_brief(reading: Reading, day: str, clock: str) -> datetime | None:
    """The brief that was typed as day and time of day, or None after noting what is wrong with it."""
    on, at = reading.take(lambda: read_date(day)), reading.take(lambda: read_clock(clock))
    return datetime.combine(on, at) if on is not None and at is not None else None
