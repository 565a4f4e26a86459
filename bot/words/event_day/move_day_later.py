"""Moving everything that is still to come on the event day so much later."""

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import RunningDay
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day.moved_times import timetable_stamp
from storage.records.message import Form, TextField

REFUSALS = {
    DayReason.LATER_MINUTES: "**{typed}** will not do. Type whole minutes from 1 to {most}, such as 15.",
}


def later_form(day: RunningDay) -> Form:
    """By how much everything that is still to come moves."""
    field = TextField(
        key="minutes",
        label="How many minutes later?",
        hint="All runs and interviews still to come on the day move. Everyone concerned is told.",
        example="15",
        most=4,
    )
    return Form(key=key(DayKey.DAY_LATER, "typed", timetable_stamp(day)), title="Later", fields=(field,))
