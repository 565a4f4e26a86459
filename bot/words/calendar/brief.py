"""The brief: the message that it is out, and its full text, page by page; surprises stay secret."""

from collections.abc import Collection

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.keys import key
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import escape
from bot.words.core.times import full_and_relative
from bot.words.plan.places_text import minimum_text, places_text
from bot.words.plan.plan_text import event_text
from bot.words.practice.booking import about
from bot.words.questions.ask import ASK
from storage.records.message import MESSAGE_LENGTH, Button, Message
from storage.records.plan import Plan

REFUSALS = {
    Reason.BRIEF_NOT_OUT: "The brief is not out yet. Everyone gets it <t:{brief}:F>, <t:{brief}:R>.",
}

OPEN = Button(key=key(ActionKey.BRIEF_OPEN), label="Open the brief", style="main")


def in_news(plan: Plan, schedule: Schedule, sha256: str) -> Message:
    """The message to everyone that the brief is out."""
    return Message(
        text=f"**{escape(plan.name)}: the brief is out**\n"
        f"Press the button to read what to do; only you see it, as often as you like.\n"
        f"The deadline is {full_and_relative(schedule.deadline)}.\n"
        f"-# The rules are fixed from now on. Fingerprint of the plan (SHA-256): {sha256}",
        rows=((OPEN, ASK),),
    )


def in_room(schedule: Schedule) -> Message:
    """The message in each squad's room that the brief is out."""
    return Message(
        text="**The brief is out.** Each of you, please open it.\n"
        f"The deadline is {full_and_relative(schedule.deadline)}.",
        rows=((OPEN, ASK),),
    )


def opened(plan: Plan, schedule: Schedule, page: int, started: Collection[str] = ()) -> Message:
    """One page of the brief, with the surprises that have `started`."""
    found = pages(_blocks(plan, schedule, started), MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    page = within(page, len(found))
    turn = turning(ActionKey.BRIEF_PAGE, page, len(found))
    return Message(text=found[page] + page_line(page, len(found)), rows=(turn,) if turn else ())


def whole(plan: Plan, schedule: Schedule) -> str:
    """All that students read when the brief is out, without the surprises."""
    return "\n\n".join(_blocks(plan, schedule, ()))


def _blocks(plan: Plan, schedule: Schedule, started: Collection[str]) -> list[str]:
    size = plan.squads
    squads = f"{size.smallest}" if size.smallest == size.largest else f"{size.smallest} to {size.largest}"
    return [
        f"**{escape(plan.name)}**\n{plan.brief}",
        f"**When**\nThe deadline is {full_and_relative(schedule.deadline)}.\n"
        f"Squads have {squads} members. {places_text(plan)} can be won. {minimum_text(plan)}".rstrip(),
        *(event_text(event, plan, secret=event.key in started, hidden=False) for event in plan.events),
        *((about(plan.practice),) if plan.practice is not None else ()),
    ]
