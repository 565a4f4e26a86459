"""What the office reads when the plan of the day changed under a timetable."""

from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.signs import Sign, posted
from storage.records.message import Button, Message


@posted(Sign.DAY)
def made_anew() -> Message:
    """Told in the office when the plan of the day changed under a timetable."""
    return Message(
        text="**The plan of the event day has changed**, and the timetable was made from the old one. "
        "Open **Event day** and press **Make it again**; only squads whose times change are told.",
        rows=((Button(key=key(DayKey.DAY_PANEL), label="Event day", style="main"),),),
    )
