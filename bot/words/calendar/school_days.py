"""Days without school: what such a day is called in the calendar, and why school days or holidays cannot be found."""

from datetime import date

from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.refusal_reasons import Reason

REFUSALS = {
    Reason.NO_SCHOOL_DAYS: "With these weekends and closed days there is no school day left. Please change the plan.",
    Reason.HOLIDAYS_COUNTRY: "No public holidays are known for {country}. List the days under `closed` in the plan "
    "instead.",
    Reason.HOLIDAYS_REGION: "{country} has no region {region} in the list of public holidays. Please change the plan.",
}


def closed_text(school: SchoolDays, day: date) -> str:
    """Why there is no school on a day; empty on a school day."""
    match school.closed_because(day):
        case "weekend":
            return "weekend"
        case "closed":
            return "school closed"
        case "holiday":
            return school.holiday_name(day)
        case _:
            return ""
