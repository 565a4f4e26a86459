"""Why there is no timetable: which limit binds, and what would help."""

from collections.abc import Mapping, Sequence

from bot.rules.event_day.why_no_timetable import Binding
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.event_day.event_day_overview import PANEL, PLAN
from storage.records.message import Message

MOST_NAMED, NAMED_OF_MORE = 4, 3
"""Squads that are named beside a limit; where there are more than the first number, so many and how many more."""
_WHY = {
    "no_time": "No time of the day is long enough for {squads}. Give their sections a longer lesson, or another hour.",
    "squad": "{squads} would need {needed} minutes for runs and interviews, and there are {there}.",
    "tables": "The runs of {squads} take {needed} minutes, and the tables have {there} in their lesson. Add a table, "
    "shorten the runs, or give a longer lesson or a second day.",
    "judge": "{judge} would need {needed} minutes for the interviews of {squads}, and there are {there}. Let fewer "
    "judges see each squad, shorten the interviews, or let them be at any time of the day.",
    "all_tables": "With more tables there would be a timetable: the tables are what is short.",
    "all_judges": "If judges could be in two places there would be a timetable: the judges are what is short. Let "
    "fewer judges see each squad, or let interviews be at any time of the day.",
    "together": "Tables and judges together leave no timetable. Shorten runs or interviews, or give more time.",
}


def impossible(found: Sequence[Binding], squads: Mapping[int, str], judges: Mapping[int, str]) -> Message:
    """Why there is no timetable, limit by limit, and what would help."""
    lines = [f"- {_why(one, squads, judges)}" for one in found]
    text = "**There is no timetable without a clash.** This stands in the way:\n" + "\n".join(lines)
    return whole_message(f"{text}\nNothing has changed so far.", ((PLAN, PANEL),))


def _why(one: Binding, squads: Mapping[int, str], judges: Mapping[int, str]) -> str:
    names = [escape(squads.get(squad, "?")) for squad in one.squads]
    few = listing(names)
    if len(names) > MOST_NAMED:
        few = f"{', '.join(names[:NAMED_OF_MORE])} and {len(names) - NAMED_OF_MORE} more"
    judge = escape(judges.get(one.judge or 0, "A judge"))
    return _WHY[one.what].format(squads=few, needed=one.needed, there=one.there, judge=judge)
