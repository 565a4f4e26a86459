"""A try-out begins: one at a time on a class server, and what of its dates must still be to come."""

from datetime import datetime, time

from bot.rules.calendar.calendar import schedule
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Plan
from storage.records.tryout import Tryout


def check_none(running: Tryout | None) -> None:
    """No try-out runs on this class server, or a Refusal: `runs_already`."""
    if running is not None:
        raise Refusal(Reason.RUNS_ALREADY)


def read_with(brief: datetime | None, now: datetime) -> datetime:
    """The date (local) with which the rest of a form is read: a wrong one must not hide what else is wrong.

    The typed one where it can be read, else noon of today, which will do.
    """
    return brief or datetime.combine(now.date(), time(12))


def check_ahead(plan: Plan, now: datetime) -> None:
    """Brief and end of sign-up are to come, or a Refusal: `new_brief_past` (brief), `new_signup_past` (closes)."""
    planned = schedule(plan)
    if planned.brief <= now:
        raise Refusal(Reason.NEW_BRIEF_PAST, brief=int(planned.brief.timestamp()))
    if planned.signup_closes <= now:
        raise Refusal(Reason.NEW_SIGNUP_PAST, closes=int(planned.signup_closes.timestamp()))
