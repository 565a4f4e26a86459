"""The coach's page of the event day: what is planned, how far it is, and the next step."""

from collections.abc import Sequence
from datetime import date

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.event_day_overview import NextStep, next_step
from bot.words.core.buttons import BACK
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import day_text, full
from storage.records.day_plan import DayPlan
from storage.records.event_day import DayDraw
from storage.records.message import Button, Message

PLAN = Button(key=key(DayKey.DAY_PLAN), label="Plan of the day")
KIT = Button(key=key(DayKey.DAY_KIT), label="Paper kit")
LEFT = Button(key=key(DayKey.DAY_LEFT), label="What is missing")
AGAIN = Button(key=key(DayKey.DAY_MAKE), label="Make it again")
PANEL = Button(key=key(DayKey.DAY_PANEL), label="Event day")
REFUSALS = {
    DayReason.NO_EVENT_DAY: "The plan has no event day yet. Press **Plan of the day** under **Event day**, or write "
    "`event_day` into the plan.",
    DayReason.DAY_NOT_YET: "The event day is arranged once the brief is out and the squads are fixed.",
    DayReason.DAY_OVER: "Judging is closed, so the timetable does not change any more.",
}
NEXT: dict[NextStep, Button] = {
    "publish": Button(key=key(DayKey.DAY_PUBLISH), label="Publish the list", style="main"),
    "draw": Button(key=key(DayKey.DAY_KEY), label="Draw the order", style="main"),
    "make": Button(key=key(DayKey.DAY_MAKE), label="Make the timetable", style="main"),
    "tell": Button(key=key(DayKey.DAY_ASK_TELL), label="Tell the squads", style="main"),
    "board": Button(key=key(DayKey.DAY_BOARD), label="The board", style="main"),
}
"""The filled button, by the next step."""


def no_plan() -> Message:
    """The plan has no event day yet."""
    text = (
        "**The event day.** The plan says nothing about it yet. Tell me its dates, the lessons of the sections and how "
        "many tables there are, and I make a timetable: who runs when, and who meets which judges."
    )
    return Message(text=text, rows=((PLAN.model_copy(update={"style": "main"}), KIT, LEFT, BACK),))


def panel(
    day: DayPlan, dates: Sequence[date], draw: DayDraw | None, slots: int, left_out: Sequence[str], board: Sequence[str]
) -> Message:
    """How far the event day is, and what comes next."""
    talks = f"an interview {count(day.interview_minutes, 'minute')}" if day.interview_minutes else "no interviews"
    lines = [
        f"**The event day.** {listing([day_text(on) for on in dates])}",
        f"{count(day.tables, 'table')}; a run takes {count(day.run_minutes, 'minute')}, {talks}.",
        _state(draw, slots),
        *([f"Not in the timetable: {listing([escape(name) for name in left_out])}."] if left_out else []),
        *board,
    ]
    main = NEXT[next_step(draw, slots)]
    ways = [KIT]
    if slots:
        ways.append(Button(key=key(DayKey.DAY_PAGE, 0), label="Timetable"))
        if main.key != DayKey.DAY_MAKE:
            ways.append(AGAIN)
        ways += [
            Button(key=key(DayKey.DAY_LATER), label="Later"),
            Button(key=key(DayKey.DAY_CALENDAR), label="Calendar file"),
        ]
    rows = [(main, PLAN, LEFT, BACK), tuple(ways)]
    return whole_message("\n".join(lines), rows)


def _state(draw: DayDraw | None, slots: int) -> str:
    if draw is None:
        return "Nothing is drawn yet. First everyone reads the list of squads and where the key will come from."
    if draw.key is None:
        return "The list is published. Once the key is known, draw with it."
    if not slots:
        return f"The order is drawn (key `{draw.key}`). There is no timetable yet."
    if draw.told_at is None:
        return f"The order is drawn (key `{draw.key}`). The timetable is made; squads do not see it yet."
    return f"Squads have had their times since {full(draw.told_at)}. Squads whose times change are told of it."
