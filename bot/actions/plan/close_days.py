"""The coach closes a day, or pauses the try-out for some: shown before it is done, and told to everyone once."""

from datetime import date

from bot.actions.core.dispatch import act, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.plan.change_plan import propose
from bot.actions.plan.form_mistakes import checked
from bot.rules.core.parse_typed import read_date
from bot.rules.core.refusal import Refusal
from bot.rules.plan.close_days import Moves, close, loses_turns, moves, span
from bot.rules.plan.plan_problems import BadPlan
from bot.rules.practice.lost_closed_or_cancelled_turns import stranded
from bot.rules.practice.practice_table import slots
from bot.words.core import refusals
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.text_as_file import whole_message
from bot.words.plan import close_days as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.plan import Plan
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import practice, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.CLOSE_DAYS, "coach")
async def ask_closed_days(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for the days that are closed."""
    today = request.at.astimezone(schedule_of(tryout).zone).date()
    return Open(form=words.close_form(today, tryout.state))


@act(ClassKey.DAYS_CLOSED, "coach")
async def close_days(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Show what moves; nothing does before the coach has said yes."""
    planned = schedule_of(tryout)
    try:
        days = _days(request, request.at.astimezone(planned.zone).date())
        plan = checked(close(tryout.plan, days, planned))
        found = moves(tryout.plan, plan, days, tryout.brief_at)
    except Refusal as refusal:
        return Say(message=words.not_closed(refusals.message(refusal).text))
    except BadPlan as bad:
        return Say(message=words.bad_plan(bad.problems))
    shown = words.what_moves(found, await _lost(db, tryout, plan, found, request), plan.practice is not None)
    answer = await propose(db, tryout, request, plan, shown)
    if isinstance(answer, Open) or shown in answer.message.text:
        return answer
    message = whole_message(f"{shown}\n\n{answer.message.text}", answer.message.rows)
    return Replace(message=message)


def _days(request: Request, today: date) -> tuple[date, ...]:
    first = read_date(request.field("first"))
    last = request.fields.get("last", "").strip()
    return span(first, read_date(last) if last else None, today)


async def _lost(db: Snapshot, tryout: Tryout, plan: Plan, found: Moves, request: Request) -> list[str]:
    """The squads that lose turns at the practice table, once for each turn."""
    if not loses_turns(tryout.state):
        return []
    names = {squad.id: squad.name for squad in await squads.squads(db, tryout.id)}
    gone = stranded(slots(plan, found.after), await practice.turns(db, tryout.id), request.at)
    return [names[turn.squad_id] for turn in gone if turn.squad_id in names and turn.state == "held"]
