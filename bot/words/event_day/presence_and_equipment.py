"""Who of a squad is here and what it is given: how it is ticked, what table and room read, why it may not start."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.presence_and_equipment import Attendance, is_asked, is_ticked, pieces, too_few
from bot.words.core.buttons import here_button
from bot.words.core.choices import PAGE, choice
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from storage.records.message import FORM_LABEL, Form, Message, Row, SelectField
from storage.records.people import Squad, Student
from storage.records.plan import Event

REFUSALS = {
    DayReason.PRESENCE_FIRST: "First tick who of the squad is here. How much equipment it gets, and whether it may "
    "run, depend on it.",
    DayReason.PRESENT_TOO_FEW: "Too few of the squad are here: {here}. At least {least} are needed to start. Let it "
    "come later, or ask a coach: a coach may let it start.",
    DayReason.NOBODY_TO_TICK: "**{squad}** has no members, so there is nobody to tick. A coach can place students: "
    "**People**.",
}


def _tick(refusal: Refusal) -> tuple[Row, ...]:
    here = here_button(refusal.fields["about"], refusal.fields["number"])
    return ((here.model_copy(update={"style": "main"}),),)


LEAD_ON = dict.fromkeys((DayReason.PRESENCE_FIRST, DayReason.PRESENT_TOO_FEW), _tick)


def here_line(event: Event, found: Attendance) -> str:
    """`Here: 4 of 5. Equipment: 3 pairs of scissors.`; empty where nobody asks and nobody has looked."""
    if found.present is None:
        return "Who is here has not been ticked yet." if is_asked(event) else ""
    few = event.least_present is not None and too_few(event, found.present)
    note = f" At least {event.least_present} are needed to start." if few else ""
    return f"Here: **{found.present} of {len(found.members)}**.{_given(event, found.present)}{note}"


def _given(event: Event, present: int) -> str:
    """` Equipment: 3 pairs of scissors.`; empty where the plan gives nothing."""
    if event.equipment is None:
        return ""
    return f" Equipment: **{pieces(event.equipment, present)} {escape(event.equipment.name)}**."


def here_form(squad: Squad, event: Event, about: str, members: Sequence[Student], found: Attendance) -> Form:
    """The roster, to take out who is not here."""
    choices = tuple(choice(one.id, one.name, chosen=is_ticked(found, one.id)) for one in members[:PAGE])
    field = SelectField(
        key="here",
        label=cut(f"Who is here for {event.name}?", FORM_LABEL),
        hint="Take out who is not here. It can be changed when somebody comes late.",
        choices=choices,
        least=0,
        most=len(choices),
        required=False,
    )
    title = cut(f"{squad.number} {squad.name}", FORM_LABEL)
    return Form(key=key(DayKey.DAY_NOTED, about, squad.id), title=title, fields=(field,))


@posted(Sign.DAY)
def told(event: Event, found: Attendance) -> Message:
    """What the squad reads in its room: how many are here, and what it is given."""
    return Message(text=f"**{escape(event.name)}**: we have ticked who of you is here. {here_line(event, found)}")
