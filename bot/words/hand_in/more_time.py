"""More time for one squad: the form, what the squad reads, and what the coach does."""

from datetime import datetime

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import LONGEST_REASON, SHORTEST_REASON
from bot.rules.hand_in.more_time import MOST_EXTENSION, PROPOSED
from bot.words.core.buttons import BACK, SQUADS
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.number_text import in_words
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from storage.records.message import Form, Message, TextField
from storage.records.people import Squad

REFUSALS = {
    Reason.MORE_TIME_WHEN: "More time must end after now and after the deadline (<t:{deadline}:F>), at most "
    f"{in_words(MOST_EXTENSION.days)} days later. Write date and time as the form has them.",
    Reason.MORE_TIME_LATE: "More time can be given from the brief on until judging is closed.",
}


def more_time_form(squad: Squad, schedule: Schedule) -> Form:
    """Until when, and why."""
    example = (schedule.deadline + PROPOSED).astimezone(schedule.zone)
    return Form(
        key=key(ClassKey.TIME_GIVEN, squad.id),
        title="More time for the hand-in",
        fields=(
            TextField(
                key="until",
                label="Until when?",
                hint="For this squad's hand-in only. All other squads keep their deadline.",
                value=f"{example:%Y-%m-%d %H:%M}",
                most=16,
            ),
            TextField(
                key="reason",
                label="Why?",
                hint="Everyone reads it with the result. No names, please.",
                least=SHORTEST_REASON,
                most=LONGEST_REASON,
            ),
        ),
    )


@posted(Sign.PART)
def told(until: datetime) -> Message:
    """Told in the squad's room."""
    return Message(text=f"Your squad has more time: you can hand in until {full(until)}.")


def given(squad: Squad, until: datetime) -> Message:
    """The coach has given more time."""
    return Message(
        text=f"**{escape(squad.name)}** can hand in until {full(until)}. The squad reads it in its room. Reminders do "
        "not move; the reason is shown with the result.",
        rows=((SQUADS, BACK),),
    )
