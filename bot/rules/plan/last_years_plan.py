"""Last year's plan taken again with a new date: what of it moves along, and what is left out."""

from datetime import datetime

from storage.records.plan import Plan


def moved_to(last: Plan, brief: datetime, sections: tuple[str, ...]) -> Plan:
    """The plan with another brief (local) and other sections, where there are any.

    Dates of the past year are no use: sign-up closes with the brief, judges have the usual days, and of the closed
    days those stay that are to come.
    """
    calendar = last.calendar.model_copy(
        update={
            "brief": brief,
            "signup_closes": None,
            "judging_closes": None,
            "closed": tuple(day for day in last.calendar.closed if day >= brief.date()),
        }
    )
    return last.model_copy(update={"calendar": calendar, "sections": sections or last.sections})
