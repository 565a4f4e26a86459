"""Ticking who of a squad is here, and what its room reads."""

from collections.abc import Sequence

from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.event_day.presence import Attendance
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.scorekeeping.before_start import here_line
from storage.records.message import Form, Message, SelectField
from storage.records.people import Squad, Student
from storage.records.plan import Event

REFUSALS = {
    DayReason.NOBODY_TO_TICK: "**{squad}** has no members, so there is nobody to tick. A coach can place students: "
    "**People**.",
}


def here_form(squad: Squad, event: Event, about: str, members: Sequence[Student], found: Attendance) -> Form:
    """The roster with everyone ticked, or as it was ticked last."""
    choices = tuple(choice(one.id, one.name, chosen=found.here is None or one.id in found.here) for one in members[:25])
    field = SelectField(
        key="here",
        label=cut(f"Who is here for {event.name}?", 45),
        hint="Take out who is not here. It can be changed when somebody comes late.",
        choices=choices,
        least=0,
        most=len(choices),
        required=False,
    )
    title = cut(f"{squad.number} {squad.name}", 45)
    return Form(key=key(DayKey.DAY_NOTED, about, squad.id), title=title, fields=(field,))


@posted(Sign.DAY)
def told(event: Event, found: Attendance) -> Message:
    """What the squad reads in its room: how many are here, and what it is given."""
    return Message(text=f"**{escape(event.name)}**: we have ticked who of you is here. {here_line(event, found)}")
