"""The event day moves: by how many minutes, as the coach is asked; the plan has changed, as the office reads."""

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import RunningDay
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.signs import Sign, posted
from bot.words.event_day.event_day_overview import PANEL
from bot.words.event_day.moved_times import timetable_stamp
from storage.records.message import Form, Message, TextField

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


@posted(Sign.DAY)
def made_anew() -> Message:
    """Told in the office when the plan of the day changed under a timetable."""
    return Message(
        text="**The plan of the event day has changed**, and the timetable was made from the old one. "
        "Open **Event day** and press **Make it again**; only squads whose times change are told.",
        rows=((PANEL.model_copy(update={"style": "main"}),),),
    )
