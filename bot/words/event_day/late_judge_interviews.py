"""Judges who should meet squads, and cannot at the times of the timetable as it is."""

from collections.abc import Mapping, Sequence

from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.event_day.event_day_overview import AGAIN, PANEL
from storage.records.message import Message

MOST_NAMED = 4
"""Squads that are named in the office for each judge without an interview; of more only how many."""


@posted(Sign.DAY)
def without_interview(left: Mapping[str, Sequence[str]]) -> Message:
    """Stands in the office as long as a judge (by name) has no interview with these squads."""
    lines = []
    for judge, squads in left.items():
        named = [escape(name) for name in squads[:MOST_NAMED]]
        more = [f"{len(squads) - MOST_NAMED} more"] if len(squads) > MOST_NAMED else []
        lines.append(f"- **{escape(judge)}** has no interview with {listing([*named, *more])}.")
    text = (
        "**Not everybody who judges is in the timetable.** At the times as they are somebody would be in two places at "
        "once, or there is no interview yet.\n"
        + "\n".join(lines)
        + "\nMake the timetable anew; only those whose times "
        "change are told. This message goes when nothing is left."
    )
    anew = AGAIN.model_copy(update={"style": "main"})
    return whole_message(text, ((anew, PANEL),))
