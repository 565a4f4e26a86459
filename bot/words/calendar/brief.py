"""The brief: its full text, part by part and page by page, the pinned message that leads to it; no secrets."""

from collections.abc import Collection

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal_reasons import Reason
from bot.rules.event_day.day_windows import day_dates
from bot.rules.plan.public_plan import PublicPlan
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, grouped_pages, page_line, turning, within
from bot.words.core.plain_text import escape, with_bold
from bot.words.core.signs import Sign, posted
from bot.words.core.times import day_text, full
from bot.words.plan.event_in_brief import event_groups
from bot.words.plan.how_points_are_made import total_points
from bot.words.plan.places_on_team import minimum_text, places_text
from bot.words.plan.public_plan import fingerprints
from bot.words.plan.squad_size import members_text
from bot.words.plan.worked_example import worked_example
from bot.words.practice.practice_table import practice_in_brief
from bot.words.questions.squad_asks import ASK
from storage.records.message import MESSAGE_LENGTH, Button, Message
from storage.records.plan import Plan

REFUSALS = {
    Reason.BRIEF_NOT_OUT: "The brief is not out yet. Everyone gets it <t:{brief}:F>.",
}
OPEN = Button(key=key(ActionKey.BRIEF_OPEN), label="Open the brief", style="main")
MY_SQUAD = Button(key=key(ActionKey.SQUAD_MINE), label="My squad: what to do", style="main")
FILE = Button(key=key(ActionKey.BRIEF_FILE), label="The rules as a file")
READ_ON = ". Please read on to the last page."
ROOM = MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE - len(READ_ON)
"""Characters of the brief on one page."""


def brief_opened(plan: Plan, schedule: Schedule, page: int, started: Collection[str] = ()) -> Message:
    """One page of the brief, with the surprises that have `started`; the last one has the file."""
    found = _pages(plan, schedule, started)
    page = within(page, len(found))
    turn = turning(ActionKey.BRIEF_PAGE, page, len(found), main=True)
    if page == len(found) - 1:
        return Message(text=found[page] + page_line(page, len(found)), rows=((*turn, MY_SQUAD, ASK, FILE),))
    return Message(text=f"{found[page]}{page_line(page, len(found))}{READ_ON}", rows=(turn,))


def number_of_pages(plan: Plan, schedule: Schedule, started: Collection[str] = ()) -> int:
    """How many pages the brief has, with the surprises that have `started`."""
    return len(_pages(plan, schedule, started))


def whole(plan: Plan, schedule: Schedule) -> str:
    """All that students read when the brief is out, without the surprises."""
    return "\n\n".join("\n".join(group) for group in _groups(plan, schedule, ()))


def event_days(plan: Plan, schedule: Schedule) -> str:
    """When the event days are; each squad reads its own times in its room, once they are made."""
    if plan.event_day is None:
        return ""
    days = [day_text(on) for on in day_dates(plan, schedule)]
    name = "The event day is" if len(days) == 1 else "The event days are"
    return f"{name} {listing(days)}. Your squad reads its own times in its room."


def _pages(plan: Plan, schedule: Schedule, started: Collection[str]) -> list[str]:
    return grouped_pages(_groups(plan, schedule, started), ROOM)


def _groups(plan: Plan, schedule: Schedule, started: Collection[str]) -> list[list[str]]:
    """What stays together on a page where it fits, in order, each in parts that are never cut."""
    shown = worked_example(plan, started)
    days = f"{text}\n" if (text := event_days(plan, schedule)) else ""
    task = f"**{escape(plan.name)}**\n{with_bold(plan.brief)}"
    when = (
        f"**When**\nThe deadline is {full(schedule.deadline)}.\n{days}"
        f"Squads have {members_text(plan)}. {places_text(plan)} can be won. {minimum_text(plan)}".rstrip()
    )
    return [
        [task],
        [when],
        *(group for event in plan.events for group in event_groups(event, plan, event.key in started, ROOM)),
        [total_points(plan, started)],
        *([[shown]] if shown else []),
        *([[practice_in_brief(plan.practice)]] if plan.practice is not None else []),
    ]


@posted(Sign.BRIEF)
def pinned_rules(plan: Plan, schedule: Schedule, public: PublicPlan, may_ask: bool) -> Message:
    """The pinned message about the rules, for as long as the try-out runs; `may_ask` until judging is closed."""
    asking = "ask about the rules, " if may_ask else ""
    return Message(
        text=f"**The rules of {escape(plan.name)}**\n"
        f"Read the brief, {asking}or save the rules as a file.\n"
        f"The deadline is {full(schedule.deadline)}.\n"
        f"-# {fingerprints(public)}",
        rows=((OPEN, *((ASK,) if may_ask else ()), FILE),),
    )
