"""The plan of the event day as a form."""

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.times import time_text
from bot.words.plan.change_plan import reason_fields
from storage.records.day_plan import DayPlan
from storage.records.message import Form, TextField
from storage.records.tryout import State

REFUSALS = {
    Reason.TYPED_LESSON: "I cannot read this lesson: **{typed}**. Type it like 7 Ash 8:00-8:45, with a date before "
    "the times where it is on one day only.",
    Reason.TYPED_BREAK: "I cannot read this break: **{typed}**. Type it like 10:00-10:20.",
    Reason.TYPED_DAY_NUMBERS: "I cannot read **{typed}**. Type five things with commas between them: tables, "
    "minutes of a run, of an interview, of a change, and lesson or day, such as 2, 5, 10, 3, lesson.",
}


def day_form(day: DayPlan, state: State) -> Form:
    """Dates, lessons, breaks, and the numbers, filled with what the plan says."""
    lessons = "\n".join(
        f"{one.section}{f' {one.date.isoformat()}' if one.date else ''} {time_text(one.begins)}-{time_text(one.ends)}"
        for one in day.lessons
    )
    breaks = ", ".join(f"{time_text(one.begins)}-{time_text(one.ends)}" for one in day.breaks)
    numbers = (
        f"{day.tables}, {day.run_minutes}, {day.interview_minutes}, {day.change_minutes}, "
        f"{'lesson' if day.interviews == 'lesson' else 'day'}"
    )
    return Form(
        key=key(DayKey.DAY_PLANNED),
        title="Plan of the event day",
        fields=(
            TextField(
                key="dates",
                label="Dates, with commas between them",
                hint="Empty: the first school day after the deadline.",
                value=", ".join(on.isoformat() for on in day.dates),
                example="2027-01-21, 2027-01-22",
                required=False,
            ),
            TextField(
                key="lessons",
                label="Lessons, one a line",
                hint="A section without a lesson runs all day long.",
                value=lessons,
                example="7 Ash 8:00-8:45",
                long=True,
                most=2000,
                required=False,
            ),
            TextField(key="breaks", label="Breaks", value=breaks, example="10:00-10:20, 12:00-12:40", required=False),
            TextField(
                key="numbers",
                label="Tables, minutes, where to interview",
                hint="Tables; minutes of a run, an interview, a change; interviews in the lesson or all day.",
                value=numbers,
                example="2, 5, 10, 3, lesson",
            ),
            *reason_fields(state),
        ),
    )
