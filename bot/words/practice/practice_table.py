"""The practice table as people read it: a squad's turns, the board with everybody's, and what the brief says of it."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.practice_table import PracticeTable
from bot.rules.practice.share_and_leftover_turns import lost_for_good
from bot.words.core.action_keys import ActionKey
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.pages import page_line, pages, turning, within
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.times import clock, day_and_month, full, time_text
from bot.words.practice.booking import ALL, BOOK, GIVE
from bot.words.practice.share_and_leftover_turns import may_still_book
from storage.records.message import Message
from storage.records.plan import Practice
from storage.records.practice import Turn

REFUSALS = {
    Reason.NO_PRACTICE: "In this try-out I do not look after turns at the practice table. Ask your coach.",
}

BOARD_LETTERS = 1800
MOST_LISTED = 25
"""More turns of a squad than this are counted in its room."""


def times_text(practice: Practice) -> str:
    """When turns begin, for the coach."""
    return f"{listing([time_text(at) for at in sorted(practice.times)])}, {practice.minutes} minutes each"


def state(turn: Turn | None, names: Mapping[int, str]) -> str:
    """Who has a turn, or that it is free."""
    if turn is None:
        return "free"
    if turn.squad_id is None:
        return "closed"
    name = f"**{escape(names.get(turn.squad_id, '?'))}**"
    return f"{name} (lost)" if turn.state == "lost" else name


@posted(Sign.PRACTICE)
def squads_turns(table: PracticeTable, squad: int, open_now: bool, can: datetime | bool = True) -> Message:
    """A squad's turns, in its own room; with buttons while turns can be booked.

    `can` is whether the squad can book one now, or from when; the button is off while it cannot.
    """
    held, lost = table.held(squad), lost_for_good(table, squad)
    lines = [f"**Practice at the table**, {table.practice.minutes} minutes a turn"]
    lines += [f"- {full(begin)}" for begin in held[:MOST_LISTED]] or ["Your squad has no turn yet."]
    if len(held) > MOST_LISTED:
        lines.append(f"- and {len(held) - MOST_LISTED} more")
    if lost:
        was, it = ("was", "it") if lost == 1 else ("were", "them")
        lines.append(f"{count(lost, 'turn')} {was} lost because something was broken. You may book {it} again.")
    if not open_now:
        return Message(text="\n".join([*lines, "Practice is over."]))
    lines.append(may_still_book(table, squad, can))
    hours = count(table.practice.give_back_hours, "hour")
    lines.append(f"-# Anyone in the squad can press. A turn can be given back until {hours} before it begins.")
    book = BOOK if can is True else BOOK.model_copy(update={"style": "plain", "disabled": True})
    return Message(text="\n".join(lines), rows=((book, GIVE.model_copy(update={"disabled": not held}), ALL),))


def boards(zone: ZoneInfo, table: PracticeTable, names: Mapping[int, str]) -> list[str]:
    """Who has which turn, a line a day, in as many texts as its length needs."""
    days: dict[str, list[str]] = {}
    for begin in table.slots:
        turn = table.by_begin.get(begin)
        days.setdefault(day_and_month(begin.astimezone(zone)), []).append(f"{clock(begin)} {state(turn, names)}")
    lines = [f"**{day}**: {'; '.join(found)}" for day, found in days.items()] or ["There are no turns."]
    minutes = table.practice.minutes
    head = signed(Sign.PRACTICE, f"**Turns at the practice table** ({minutes} minutes each)")
    return pages([head, *lines], BOARD_LETTERS, "\n")


def board(found: Sequence[str], part: int) -> Message:
    """One part of the public board, from 0."""
    last = part == len(found) - 1
    text = found[part] + ("\n-# Book a turn in your squad's room, or with /book." if last else "")
    return Message(text=text)


def all_turns(found: Sequence[str], page: int) -> Message:
    """The same for one person, page by page."""
    page = within(page, len(found))
    turn = turning(ActionKey.PRACTICE_TURNS, page, len(found))
    return Message(text=found[page] + page_line(page, len(found)), rows=(turn,) if turn else ())


def practice_in_brief(practice: Practice) -> str:
    """What the brief says about practice."""
    return (
        f"**Practice at the table**\nTurns on school days at {times_text(practice)}. "
        "Book a turn in your squad's room: every squad gets the same number first."
    )
