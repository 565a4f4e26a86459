"""The plan as the coach sees it: a summary with ways to change it, and all of it, page by page."""

from datetime import datetime

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.plan_default_dates import JUDGING_DAYS
from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.plan.change_plan import asks_for_reason
from bot.rules.plan.edit_plan import dates_are_open
from bot.rules.scoring.tie_breaks import has_run_offs
from bot.words.calendar.calendar_view import explain
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.number_text import in_words
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import escape, with_bold
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import time_text
from bot.words.core.who_reads import who_reads
from bot.words.plan.begin_tryout import CLOCK_HINT, DAY_HINT
from bot.words.plan.change_plan import reason_fields
from bot.words.plan.event_in_brief import event_text
from bot.words.plan.places_on_team import minimum_text, places_text
from bot.words.plan.squad_size import squad_size
from bot.words.practice.practice_table import practice_in_brief
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Form, Message, RadioField, TextField
from storage.records.plan import Plan
from storage.records.plan_limits import LINE_LETTERS, TEXT_LETTERS, WINDOW_DAYS
from storage.records.tryout import State

REFUSALS: dict[AnyReason, str] = {
    Reason.TYPED_DAYS: "The number of days must be a number from {least} to {most}, not **{typed}**.",
    Reason.TYPED_PLACES: "The number of places must be a number from {least} to {most}, not **{typed}**.",
    Reason.TYPED_SMALLEST: "The smallest squad must be a number from {least} to {most}, not **{typed}**.",
    Reason.TYPED_LARGEST: "The largest squad must be a number from {least} to {most}, not **{typed}**.",
    Reason.TYPED_LINE: "I cannot read this line: **{typed}**. Keep the names as they stand, then = and a number.",
}
ANNOUNCE = {
    "winner": "the winner, and thanks to everyone",
    "podium": "the first three",
    "table": "the whole table",
}


def edit_plan_panel(plan: Plan, state: State, said: str = "") -> Message:
    """The plan in short, and what can be changed."""
    events = "\n".join(
        f"- {escape(event.name)}: {event.weight.normalize():f}{' (surprise)' if event.surprise else ''}"
        for event in plan.events
    )
    text = (
        f"**The plan: {escape(plan.name)}**\n"
        f"Sections: {', '.join(escape(one) for one in plan.sections)}\n"
        f"Squads of {squad_size(plan)}; {places_text(plan)}; "
        f"announced: {ANNOUNCE[plan.announce]}\n"
        f"Events with their weights:\n{events}"
    )
    if minimum := minimum_text(plan):
        text += f"\n{minimum}"
    if asks_for_reason(state):
        text += "\n-# The brief is out: every change needs a reason, and everyone is told."
    rows = (
        (
            Button(key=key(ActionKey.PLAN_SHOW), label="Show all of it", style="main"),
            Button(key=key(ActionKey.PLAN_DATES), label="Dates"),
            Button(key=key(ClassKey.CLOSE_DAYS), label="Close a day"),
            Button(key=key(ActionKey.PLAN_BASICS), label="Sections and sizes"),
            Button(key=key(ActionKey.PLAN_WEIGHTS), label="Weights"),
        ),
        (
            Button(key=key(ActionKey.PLAN_WORDS), label="Name and brief"),
            Button(key=key(ActionKey.PLAN_EVENTS), label="Events"),
            Button(key=key(ActionKey.PLAN_FILE), label="Use a plan file"),
            Button(key=key(DayKey.DAY_PLAN), label="Plan of the day"),
            Button(key=key(ActionKey.PLAN_CALENDAR), label="Calendar file"),
        ),
        (BACK,),
    )
    return whole_message(f"{text}\n\n{said}" if said else text, rows)


def shown(plan: Plan, schedule: Schedule, page: int, toml: str | None = None) -> Message:
    """All of the plan, page by page; with it, when `toml` is given, the plan as a file."""
    calendar = "\n".join(explain(plan, schedule))
    blocks = [
        f"**{escape(plan.name)}** \n-# {who_reads('plan')}\n{with_bold(plan.brief)}",
        *(event_text(event, plan, secret=True) for event in plan.events),
        *((practice_in_brief(plan.practice),) if plan.practice is not None else ()),
        f"Ties are broken by: {', '.join(plan.tie_breaks) or ('a run-off' if has_run_offs(plan) else 'the coach')}.",
        *(f"```\n{part}\n```" for part in pages(calendar.split("\n"), MESSAGE_LENGTH - 100, "\n")),
    ]
    found = pages(blocks, MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    page = within(page, len(found))
    return Message(
        text=found[page] + page_line(page, len(found)),
        rows=(
            (
                *turning(ActionKey.PLAN_PAGE, page, len(found)),
                Button(key=key(ActionKey.PLAN_PANEL), label="Change it"),
                BACK,
            ),
        ),
        files=() if toml is None else (Attachment(name="plan.toml", data=toml.encode()),),
    )


def dates_form(plan: Plan, state: State) -> Form:
    """Other dates and hours; once the brief is out, only those that are still to come."""
    calendar = plan.calendar
    days = TextField(
        key="days",
        label="Days to the deadline",
        hint=f"From the brief on: {WINDOW_DAYS.least} to {WINDOW_DAYS.most}",
        value=str(calendar.days),
        most=3,
    )
    remind = TextField(
        key="remind", label="Hour of the daily reminder", hint=CLOCK_HINT, value=time_text(calendar.remind_at), most=10
    )
    judged = TextField(
        key="judged",
        label="Judges done by",
        hint=f"Such as 2027-01-25 15:30; empty: {in_words(JUDGING_DAYS)} days after the deadline",
        value=_moment(calendar.judging_closes),
        required=False,
        most=20,
    )
    if not dates_are_open(state):
        return Form(key=key(ActionKey.PLAN_DATED), title="Dates", fields=(days, remind, judged, *reason_fields(state)))
    closes = TextField(
        key="closes",
        label="Sign-up closes",
        hint="Such as 2027-01-13 15:30; empty: with the brief",
        value=_moment(calendar.signup_closes),
        required=False,
        most=20,
    )
    return Form(
        key=key(ActionKey.PLAN_DATED),
        title="Dates",
        fields=(
            TextField(
                key="date", label="Date of the brief", hint=DAY_HINT, value=calendar.brief.date().isoformat(), most=20
            ),
            TextField(
                key="time",
                label="Time of the brief",
                hint=CLOCK_HINT,
                value=time_text(calendar.brief.time()),
                most=10,
            ),
            days,
            remind,
            closes,
        ),
    )


def _moment(at: datetime | None) -> str:
    return "" if at is None else f"{at.date().isoformat()} {time_text(at.time())}"


def basics_form(plan: Plan, state: State) -> Form:
    """Sections, sizes, places and how the result is announced."""
    sizes = f"{plan.squads.smallest}-{plan.squads.largest}"
    choices = tuple(
        choice(value, label.capitalize(), chosen=value == plan.announce) for value, label in ANNOUNCE.items()
    )
    sections = ", ".join(plan.sections)
    return Form(
        key=key(ActionKey.PLAN_BASED),
        title="Sections and sizes",
        fields=(
            TextField(
                key="sections", label="Sections", hint="Separated by commas", value=sections, most=1000, long=True
            ),
            TextField(key="sizes", label="Squad size", hint="From-to, such as 3-5", value=sizes, most=10),
            TextField(key="places", label="Places", hint="How many squads win", value=str(plan.places), most=3),
            RadioField(key="announce", label="What the class is told", choices=choices),
            *reason_fields(state),
        ),
    )


def words_form(plan: Plan, state: State) -> Form:
    """The name and the text of the brief."""
    return Form(
        key=key(ActionKey.PLAN_WORDED),
        title="Name and brief",
        fields=(
            TextField(key="name", label="Name of the try-out", value=plan.name, most=LINE_LETTERS),
            TextField(
                key="brief",
                label="The brief",
                hint="What squads must do; events add their own texts.",
                value=plan.brief,
                most=TEXT_LETTERS,
                long=True,
                required=False,
            ),
            *reason_fields(state),
        ),
    )


def the_weight_of(event_key: str) -> str:
    """What is wrong where a weight cannot be read, within a sentence."""
    return f"the weight of {event_key}"


def weights_form(plan: Plan, state: State) -> Form:
    """The weights of the events, one line each."""
    lines = "\n".join(f"{event.key} = {event.weight.normalize():f}" for event in plan.events)
    return Form(
        key=key(ActionKey.PLAN_WEIGHED),
        title="Weights",
        fields=(
            TextField(
                key="weights",
                label="Event = weight",
                hint="Only their proportion counts; 40, 30 and 30 are per cent.",
                value=lines,
                most=400,
                long=True,
            ),
            *reason_fields(state),
        ),
    )
