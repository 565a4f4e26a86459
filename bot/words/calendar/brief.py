"""The brief: the message that it is out, and its full text, page by page; surprises stay secret."""

from collections.abc import Collection, Sequence

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal_reasons import Reason
from bot.rules.event_day.day_windows import day_dates
from bot.rules.plan.public_plan import PublicPlan
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.mentions import called, to_ring
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, grouped_pages, page_line, turning, within
from bot.words.core.plain_text import escape, listing, with_bold
from bot.words.core.signs import Sign, posted
from bot.words.core.times import day_text, full, school_days_text
from bot.words.core.who_reads import who_reads
from bot.words.plan.how_points_are_made import example, total_points
from bot.words.plan.places_on_team import minimum_text, places_text
from bot.words.plan.plan_text import event_groups
from bot.words.practice.practice_table import about
from bot.words.questions.squad_asks import ASK
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Message
from storage.records.people import Student
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


@posted(Sign.BRIEF)
def in_news(plan: Plan, schedule: Schedule, left: int, public: PublicPlan) -> Message:
    """The message to everyone that the brief is out, with the plan as a file; `left` are the school days."""
    return Message(
        text=f"**{escape(plan.name)}: the brief is out**\n"
        f"Press the button to read what to do, as often as you like. {who_reads('answer', 'the answer')}\n"
        f"{_deadline(schedule, left)}\n"
        f"-# The rules are fixed from now on. {fingerprints(public)}",
        rows=((OPEN, ASK, FILE),),
        files=(plan_file(public),),
    )


@posted(Sign.BRIEF)
def pinned(plan: Plan, schedule: Schedule, public: PublicPlan) -> Message:
    """The pinned message about the rules, for as long as the try-out runs."""
    return Message(
        text=f"**The rules of {escape(plan.name)}**\n"
        f"Read the brief, ask about the rules, or save the rules as a file.\n"
        f"The deadline is {full(schedule.deadline)}.\n"
        f"-# {fingerprints(public)}",
        rows=((OPEN, ASK, FILE),),
    )


def as_file(public: PublicPlan) -> Message:
    """The plan as a file, for one person."""
    return Message(
        text=f"The rules as a file, as the computer reads them.\n-# {fingerprints(public)}", files=(plan_file(public),)
    )


def plan_file(public: PublicPlan) -> Attachment:
    """The file itself."""
    name = "plan.toml" if public.whole else "plan-without-the-surprise.toml"
    return Attachment(name=name, data=public.text.encode())


def fingerprints(public: PublicPlan) -> str:
    """What `sha256sum` shows for the file, and, where a surprise is left out of it, for the whole plan."""
    if public.whole:
        return f"Fingerprint of the plan (SHA-256 of the file): {public.sha256}"
    return (
        f"Fingerprint (SHA-256) of the file without the surprise: {public.sha256}. "
        f"Fingerprint of the whole plan, which you get when the surprise starts: {public.whole_sha256}"
    )


@posted(Sign.BRIEF)
def in_room(schedule: Schedule, left: int, members: Sequence[Student] = ()) -> Message:
    """The message in each squad's room that the brief is out; it rings for its `members`.

    `left` are the school days to the deadline. Without members it is what the coach sees beforehand.
    """
    readers = [one for one in members if one.platform_id is not None]
    who = f" {called(readers, True) if members else 'Each of you'}: please open it." if readers or not members else ""
    return Message(
        text=f"**The brief is out.**{who}\n{_deadline(schedule, left)}",
        rows=((OPEN, ASK),),
        ping=to_ring(members),
    )


def _deadline(schedule: Schedule, left: int) -> str:
    return f"The deadline is {full(schedule.deadline)}: {school_days_text(left)}."


def brief_opened(plan: Plan, schedule: Schedule, page: int, started: Collection[str] = ()) -> Message:
    """One page of the brief, with the surprises that have `started`; the last one has the file."""
    found = _pages(plan, schedule, started)
    page = within(page, len(found))
    turn = turning(ActionKey.BRIEF_PAGE, page, len(found), main=True)
    if page == len(found) - 1:
        return Message(text=found[page] + page_line(page, len(found)), rows=((*turn, MY_SQUAD, ASK, FILE),))
    return Message(text=f"{found[page]}{page_line(page, len(found))}{READ_ON}", rows=(turn,))


def is_last(plan: Plan, schedule: Schedule, page: int, started: Collection[str] = ()) -> bool:
    """Whether this page (counted from 0) is the last one: then the brief has been read."""
    return page >= len(_pages(plan, schedule, started)) - 1


def dates_text(schedule: Schedule) -> str:
    """Until when one can sign up, when the brief comes, and the deadline; no date twice."""
    brief, deadline = full(schedule.brief), full(schedule.deadline)
    if schedule.signup_closes == schedule.brief:
        return f"Sign-up closes when the brief comes, for everyone at once: {brief}. The deadline is {deadline}."
    closes = full(schedule.signup_closes)
    return f"Sign-up closes {closes}. The brief comes {brief}, for everyone at once. The deadline is {deadline}."


def whole(plan: Plan, schedule: Schedule) -> str:
    """All that students read when the brief is out, without the surprises."""
    return "\n\n".join("\n".join(group) for group in _groups(plan, schedule, ()))


def event_days(plan: Plan, schedule: Schedule) -> str:
    """When the event days are; each squad reads its own times in its room, once they are made."""
    if plan.event_day is None:
        return ""
    days = [day_text(on) for on in day_dates(plan, schedule)]
    name = "The event day is" if len(days) == 1 else "The event days are"
    return f"{name} {listing(days)}. Your own times stand in your squad's room as soon as they are made."


def _pages(plan: Plan, schedule: Schedule, started: Collection[str]) -> list[str]:
    return grouped_pages(_groups(plan, schedule, started), ROOM)


def _groups(plan: Plan, schedule: Schedule, started: Collection[str]) -> list[list[str]]:
    """What stays together on a page where it fits, each in parts that are never cut."""
    size = plan.squads
    squads = f"{size.smallest}" if size.smallest == size.largest else f"{size.smallest} to {size.largest}"
    shown = example(plan, started)
    days = f"{text}\n" if (text := event_days(plan, schedule)) else ""
    return [
        [f"**{escape(plan.name)}**\n{with_bold(plan.brief)}"],
        [
            f"**When**\nThe deadline is {full(schedule.deadline)}.\n{days}"
            f"Squads have {squads} members. {places_text(plan)} can be won. {minimum_text(plan)}".rstrip()
        ],
        *(group for event in plan.events for group in event_groups(event, plan, event.key in started, ROOM)),
        [total_points(plan, started)],
        *([[shown]] if shown else []),
        *([[about(plan.practice)]] if plan.practice is not None else []),
    ]
