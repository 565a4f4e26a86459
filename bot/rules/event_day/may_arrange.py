"""When the event day may be arranged and changed: it is in the plan, the brief is out, and judging is not closed."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from storage.records.day_plan import DayPlan
from storage.records.tryout import BEFORE_BRIEF, FROM_BRIEF_TO_CLOSE, Tryout


def plan_of(tryout: Tryout) -> DayPlan:
    """The plan of the event day; Refusal `no_event_day`."""
    if tryout.plan.event_day is None:
        raise Refusal(DayReason.NO_EVENT_DAY)
    return tryout.plan.event_day


def is_on(tryout: Tryout) -> bool:
    """Whether there is an event day, and it is neither too early for it nor over."""
    return tryout.plan.event_day is not None and tryout.state in FROM_BRIEF_TO_CLOSE


def check_runs(tryout: Tryout) -> None:
    """The event day can be arranged and changed now, or a Refusal: `day_not_yet`, `day_over`."""
    if tryout.state in BEFORE_BRIEF:
        raise Refusal(DayReason.DAY_NOT_YET)
    if tryout.state not in FROM_BRIEF_TO_CLOSE:
        raise Refusal(DayReason.DAY_OVER)
