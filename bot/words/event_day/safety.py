"""Safety at the table: lines confirmed by name, the stop, and that the school's own rules come first."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.safety import LONGEST_REASON, SHORTEST_REASON
from bot.words.core.buttons import TABLE
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import exact_clock
from bot.words.event_day.run_pad import back_to_pad
from storage.records.event_day import SafetyStop
from storage.records.message import BUTTON_LABEL, FORM_LABEL, Button, Form, Message, Row, TextField
from storage.records.plan import Event

SCHOOL = "**Our school's own rules come first.** Whoever sees a danger calls STOP at once, without asking."
RISK_ASSESSMENT = "Our school's own risk assessment is done."
"""The line that every event has, below its own."""
REFUSALS = {
    DayReason.SAFETY_FIRST: "Before **{event}** starts, somebody checks its safety lines by name: before the first run "
    "of a day, and again after a stop.",
    DayReason.SAFETY_STOPPED: "**{event}** is stopped: {said} A coach lets it go on, with the message in the office.",
    DayReason.STOP_REASON: "Please say in a few words why; the coach reads it. Until then only your voice stops "
    "people: call STOP.",
}


def _ask(refusal: Refusal) -> tuple[Row, ...]:
    back = (refusal.fields["run"],) if refusal.fields.get("run") else ()
    ask = Button(key=key(DayKey.SAFETY_ASK, refusal.fields["key"], *back), label="Check the safety lines", style="main")
    return ((ask,),)


LEAD_ON = {DayReason.SAFETY_FIRST: _ask}


def lines(event: Event, who: str, run_id: int | None = None) -> Message:
    """The safety lines, to be confirmed by whoever stands there; `run_id`: the run that is to be started then."""
    listed = "".join(f"\n- {escape(line)}" for line in event.cautions)
    text = f"**{escape(event.name)}: before it starts**{listed}\n- {RISK_ASSESSMENT}\n{SCHOOL}"
    done = key(DayKey.SAFETY_DONE, event.key, *(() if run_id is None else (run_id,)))
    checked = Button(key=done, label=cut(f"Checked by me, {who}", BUTTON_LABEL), style="good")
    return whole_message(text, ((checked, TABLE),))


def checked(event: Event, run_id: int | None = None) -> Message:
    """The lines are confirmed; back to the run pad that is to be started."""
    text = f"Noted with your name. **{escape(event.name)}** can start now."
    if run_id is None:
        return Message(text=text, rows=((TABLE,),))
    pad = back_to_pad(run_id).model_copy(update={"style": "main"})
    return Message(text=text, rows=((pad, TABLE),))


@posted(Sign.DAY)
def checked_by(event: Event, who: str) -> Message:
    """Told in the office."""
    return Message(text=f"**{escape(who)}** has checked the safety lines of {escape(event.name)} for today.")


def stop_form(event: Event) -> Form:
    """Why everything stops."""
    field = TextField(
        key="reason",
        label="Why do you stop?",
        hint="Stop by voice first. Nothing starts again before a coach lets it. No names, please.",
        least=SHORTEST_REASON,
        most=LONGEST_REASON,
    )
    return Form(key=key(DayKey.STOP_DONE, event.key), title=cut(f"STOP: {event.name}", FORM_LABEL), fields=(field,))


def stopped(event: Event) -> Message:
    """It is stopped, as whoever pressed reads it."""
    return Message(
        text=f"**{escape(event.name)} is stopped.** Nothing starts before a coach lets it go on; a message stands in "
        f"the office. A run that was cut off is given again: **Our fault: run again** on its run pad. {SCHOOL}",
        rows=((TABLE,),),
    )


@posted(Sign.DAY)
def told_stop(event: Event, stop: SafetyStop, who: str) -> Message:
    """Told in the office, where a coach lets it go on."""
    go_on = Button(key=key(DayKey.STOP_LIFT, event.key), label="Let it go on", style="danger")
    text = (
        f"**STOP: {escape(event.name)}** by {escape(who)} at {exact_clock(stop.stopped_at)}: {escape(stop.reason)}\n"
        f"Nothing of it starts before you press. {SCHOOL}"
    )
    return Message(text=text, rows=((go_on,),))


@posted(Sign.DAY)
def lifted(event: Event, who: str) -> Message:
    """It goes on."""
    return Message(
        text=f"**{escape(event.name)}** goes on; {escape(who)} has let it. Its safety lines are checked anew "
        "before the next start."
    )
