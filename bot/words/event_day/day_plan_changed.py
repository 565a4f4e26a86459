"""What the office reads when the plan of the day changed under a timetable."""

from bot.words.core.signs import Sign, posted
from bot.words.event_day.event_day_overview import PANEL
from storage.records.message import Message


@posted(Sign.DAY)
def made_anew() -> Message:
    """Told in the office when the plan of the day changed under a timetable."""
    return Message(
        text="**The plan of the event day has changed**, and the timetable was made from the old one. "
        "Open **Event day** and press **Make it again**; only squads whose times change are told.",
        rows=((PANEL.model_copy(update={"style": "main"}),),),
    )
