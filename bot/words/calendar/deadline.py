"""The deadline: what the class and the office read when it is past, and why it cannot be on a closed day."""

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal_reasons import Reason
from bot.words.calendar.brief import event_days
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full_and_relative
from storage.records.message import Message
from storage.records.plan import Plan

REFUSALS = {
    Reason.DEADLINE_CLOSED: "The deadline would fall on {day:%d %B %Y}, when the school is closed. Choose another "
    "number of days, or another day for the brief. The next school day is {next_day:%d %B %Y}.",
}


@posted(Sign.REMINDER)
def window_closed(plan: Plan, schedule: Schedule) -> Message:
    """Told in the news at the deadline, and how it goes on."""
    after = event_days(plan, schedule) or "Your coach will tell you when it is your squad's turn."
    return Message(
        text=f"**The time is up.** Well done, everyone! {after} The result comes here once every score is in."
    )


def judging_begins(schedule: Schedule) -> Message:
    """Told in the office at the deadline."""
    return Message(
        text="**The deadline is past; judging begins.** Judges should be done by "
        f"{full_and_relative(schedule.judging_closes)}. Close judging when all sheets are in: /office."
    )
