"""Who is here for an event, and what the squad is given by it, as the table and the squad read it."""

from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.core.refusal import Refusal
from bot.rules.event_day.equipment import pieces
from bot.rules.event_day.presence import Attendance, is_asked
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import escape
from storage.records.message import Button, Row
from storage.records.plan import Event

REFUSALS = {
    DayReason.PRESENCE_FIRST: "First tick who of the squad is here. How much equipment it gets, and whether it may "
    "run, depend on it.",
    DayReason.PRESENT_TOO_FEW: "Too few of the squad are here: {here}. At least {least} are needed to start. Let it "
    "come later, or ask a coach: a coach may let it start.",
}


def _tick(refusal: Refusal) -> tuple[Row, ...]:
    here = key(DayKey.DAY_HERE, refusal.fields["about"], refusal.fields["number"])
    return ((Button(key=here, label="Who is here", style="main"),),)


LEAD_ON = dict.fromkeys(REFUSALS, _tick)


def here_line(event: Event, found: Attendance) -> str:
    """`Here: 4 of 5. Equipment: 3 pairs of scissors.`; empty where nobody asks and nobody has looked."""
    if found.present is None:
        return "Who is here has not been ticked yet." if is_asked(event) else ""
    few = event.least_present is not None and found.present < event.least_present
    note = f" At least {event.least_present} are needed to start." if few else ""
    return f"Here: **{found.present} of {len(found.members)}**.{_given(event, found.present)}{note}"


def _given(event: Event, present: int) -> str:
    given = equipment_text(event, present)
    return f" Equipment: **{given}**." if given else ""


def equipment_text(event: Event, present: int) -> str:
    """`3 pairs of scissors`; empty where the plan gives nothing."""
    if event.equipment is None:
        return ""
    return f"{pieces(event.equipment, present)} {escape(event.equipment.name)}"
