"""Last year's plan taken again with a new date: what is proposed, what of it moves along, and what is left out."""

from datetime import datetime, time

from bot.rules.plan.edit_plan import without_old_lessons
from storage.records.plan import Plan


def moved_to(last: Plan, brief: datetime, sections: tuple[str, ...]) -> Plan:
    """The plan with another brief (local) and other sections, where there are any.

    Dates of the past year are no use: sign-up closes with the brief, judges have the usual days, of the closed days
    those stay that are to come, the event day follows the deadline, and lessons of a named day are left out.
    """
    calendar = last.calendar.model_copy(
        update={
            "brief": brief,
            "signup_closes": None,
            "judging_closes": None,
            "closed": tuple(day for day in last.calendar.closed if day >= brief.date()),
        }
    )
    taking_part, day = sections or last.sections, last.event_day
    if day is not None:
        lessons = tuple(one for one in without_old_lessons(day, taking_part).lessons if one.date is None)
        day = day.model_copy(update={"dates": (), "lessons": lessons})
    return last.model_copy(update={"calendar": calendar, "sections": taking_part, "event_day": day})


def proposed(last: Plan) -> tuple[time, tuple[str, ...]]:
    """What stands in the form: the time of day of last year's brief, and its sections; the date is typed anew."""
    return last.calendar.brief.time(), last.sections
