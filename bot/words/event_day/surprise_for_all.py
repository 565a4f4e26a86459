"""The surprise: what the coach confirms before it starts, and what everybody then reads at the same moment."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.plan.public_plan import PublicPlan
from bot.words.calendar.brief import FILE, OPEN
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, TABLE
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.number_text import count
from bot.words.core.pages import grouped_pages
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.text_as_file import whole_message
from bot.words.event_day.safety import RISK_ASSESSMENT
from bot.words.plan.event_in_brief import event_parts
from bot.words.plan.public_plan import fingerprints, plan_file
from storage.records.message import MESSAGE_LENGTH, Button, Message, Select
from storage.records.plan import Event, Plan

REFUSALS = {
    DayReason.NO_SURPRISE: "The plan has no surprise that waits to be started.",
    DayReason.SURPRISE_EARLY: "It is too early for the surprise: the brief is not out yet.",
    DayReason.SURPRISE_OVER: "Judging is closed, so the surprise cannot start any more.",
}

ROOM_FOR_HEAD = 200
STARTS = "**The surprise starts now.**"


def pick(events: Sequence[Event]) -> Message:
    """Which surprise shall start."""
    choices = tuple(choice(event.key, event.name) for event in events)
    return Message(
        text="Which surprise do you want to start? You are asked once more.",
        rows=(Select(key=key(ActionKey.SURPRISE_PICK), prompt="Pick a surprise", choices=choices), (BACK,)),
    )


def surprise_sure(event: Event, squads: int, judges: int, some_know: bool = False) -> Message:
    """The safety lines, confirmed before everyone is told; `some_know`: some squads have had it in a wave."""
    lines = "".join(f"\n- {escape(line)}" for line in event.cautions)
    safe = f"\n**Check before you start:**{lines}\n- {RISK_ASSESSMENT}" if lines else ""
    rooms = count(squads, "squad room gets the task", "squad rooms get the task")
    if some_know:
        who = f"for all others?** {rooms} at the same moment, and the news say so."
    else:
        who = f"now?** {rooms} at the same moment, and {count(judges, 'judge gets', 'judges get')} the sheets for it."
    text = f"**Start {escape(event.name)} {who} It cannot be taken back.{safe}"
    label = "All checked: start it" if lines else "Start it"
    start = Button(key=key(ActionKey.SURPRISE_START, event.key), label=label, style="good")
    wave = Button(key=key(DayKey.WAVE_ASK, event.key), label="For some squads only")
    return whole_message(text, ((start, wave, BACK),))


def told(event: Event, plan: Plan) -> list[Message]:
    """What every squad reads in its room, in as many messages as it needs: safety first, then the task."""
    parts = event_parts(event, plan, secret=True, hidden=False)
    safety, rest = ([f"{parts[-1]}\n"], parts[1:-1]) if event.cautions else ([], parts[1:])
    points = signed(Sign.SURPRISE, f"**{escape(event.name)}: how points are made**")
    # The task follows safety at once; how points are made can be read a message later.
    groups = [[*safety, parts[0]], [points, *rest]]
    found = grouped_pages(groups, MESSAGE_LENGTH - ROOM_FOR_HEAD)
    head = signed(Sign.SURPRISE, f"{STARTS}\n\n")
    return [Message(text=(head if number == 0 else "") + page) for number, page in enumerate(found)]


@posted(Sign.SURPRISE)
def told_in_news(event: Event) -> Message:
    """What the class reads: that it has started, and where the task is."""
    text = f"{STARTS} **{escape(event.name)}**: your squad has the task in its room. It is in the brief now, too."
    return Message(text=text, rows=((OPEN,),))


@posted(Sign.SURPRISE)
def revealed(public: PublicPlan) -> Message:
    """The plan with the surprise in it as a file, whose fingerprint everybody has had since the brief."""
    if public.whole:
        text = "**The whole plan as a file, now with the surprise.** Its fingerprint is the one that was posted for it."
    else:
        text = "**The plan as a file, now with this surprise.**"
    return Message(text=f"{text}\n-# {fingerprints(public)}", rows=((FILE,),), files=(plan_file(public),))


def started(event: Event) -> Message:
    """It has started."""
    return Message(
        text=f"**{escape(event.name)}** has started: everyone has the task. Times and counts go in at the **Table**.",
        rows=((TABLE, BACK),),
    )
