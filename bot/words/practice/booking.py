"""Turns at the practice table, as squads and the class see them."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial
from zoneinfo import ZoneInfo

from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.practice_table import PracticeTable
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.pages import page_line, pages, turning, within
from bot.words.core.plain_text import count, escape, listing
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.times import clock, day_and_month, full, short_moment, time_text
from storage.records.message import Button, Choice, Message, Row
from storage.records.people import Squad
from storage.records.plan import Practice
from storage.records.practice import Turn

REFUSALS = {
    Reason.NO_PRACTICE: "In this try-out I do not look after turns at the practice table. Ask your coach.",
    Reason.PRACTICE_NOT_YET: "Turns at the practice table can be booked once the brief is out: <t:{brief}:F>.",
    Reason.PRACTICE_OVER: "The deadline has passed, so practice is over.",
    Reason.NO_SUCH_TURN: "There is no turn at that time any more. Open the list again and pick another one.",
    Reason.NO_TURNS_FREE: "There are no turns left that your squad can book.",
    Reason.NO_TURNS_YET: "Your squad cannot book a turn right now. You can book from <t:{opens}:F>, "
    "if a turn is left then.",
    Reason.NO_TURNS_MINE: "Your squad has no turn that can still be given back.",
    Reason.TURN_OVER: "That turn has begun already or is over. Pick a later one.",
    Reason.TURN_TAKEN: "That turn is taken. Open the list again and pick another one.",
    Reason.TURN_YOURS: "Your squad has this turn already.",
    Reason.TURNS_USED: "Every squad may book {share} first, and yours has. "
    "If nobody takes this turn, you can book it from <t:{opens}:F>.",
    Reason.POOL_FIRST: "Squads with fewer turns come first. If this turn is still free, you can book it from "
    "<t:{opens}:F>.",
    ClassReason.LOST_FIRST: "Some squads have lost turns because days were closed, and choose first. You can book "
    "from <t:{opens}:F>, or as soon as they have chosen.",
    Reason.TURN_NOT_YOURS: "Your squad does not have that turn any more.",
    Reason.TURN_TOO_CLOSE: "It begins in less than {hours} hours, so it is too late to give it back. Tell your coach.",
}
LEAD_ON: Mapping[Reason, tuple[Row, ...]] = {
    **dict.fromkeys(
        (Reason.TURN_TAKEN, Reason.TURN_OVER, Reason.NO_SUCH_TURN),
        (
            (
                Button(key=key(ActionKey.PRACTICE_BOOK), label="Book a turn", style="main"),
                Button(key=key(ActionKey.PRACTICE_TURNS), label="All turns"),
            ),
        ),
    ),
    **dict.fromkeys(
        (Reason.NO_TURNS_YET, Reason.NO_TURNS_FREE, Reason.TURNS_USED, Reason.POOL_FIRST),
        ((Button(key=key(ActionKey.PRACTICE_TURNS), label="All turns"),),),
    ),
}
"""Where these refusals lead."""
BOARD_LETTERS = 1800

BOOK = Button(key=key(ActionKey.PRACTICE_BOOK), label="Book a turn", style="main")
GIVE = Button(key=key(ActionKey.PRACTICE_GIVE), label="Give a turn back")
ALL = Button(key=key(ActionKey.PRACTICE_TURNS), label="All turns")


def about(practice: Practice) -> str:
    """What the brief says about practice."""
    return (
        f"**Practice at the table**\nTurns on school days at {times_text(practice)}. "
        "Book a turn in your squad's room: every squad gets the same number first."
    )


def book_button(table: PracticeTable, squad: int, now: datetime) -> Button:
    """The button for a turn, switched off while there is none that the squad could book."""
    return BOOK if table.bookable(squad, now) else BOOK.model_copy(update={"style": "plain", "disabled": True})


def more_turns(table: PracticeTable, squad: int, now: datetime) -> str:
    """How many turns of its share a squad may still book; afterwards, from when it may book others."""
    opens, left = table.opens_again(squad, now), table.left(squad, now)
    if table.bookable(squad, now):
        return (
            f"You can book {count(left, 'more turn')} now." if left else "There is a turn left over. You can book it."
        )
    if opens is not None:
        why = "" if left else "You have booked your share. "
        return f"{why}You can book from {full(opens)}, if a turn is left then."
    return "There are no turns left to book."


@posted(Sign.PRACTICE)
def squads_turns(table: PracticeTable, squad: int, open_now: bool, can: datetime | bool = True) -> Message:
    """A squad's turns, in its own room; with buttons while turns can be booked.

    `can` is whether the squad can book one now, or from when; the button is off while it cannot.
    """
    held, lost = table.held(squad), table.lost_for_good(squad)
    lines = [f"**Practice at the table**, {table.practice.minutes} minutes a turn"]
    lines += [f"- {full(begin)}" for begin in held[:PAGE]] or ["Your squad has no turn yet."]
    if len(held) > PAGE:
        lines.append(f"- and {len(held) - PAGE} more")
    if lost:
        was, it = ("was", "it") if lost == 1 else ("were", "them")
        lines.append(f"{count(lost, 'turn')} {was} lost because something was broken. You may book {it} again.")
    if not open_now:
        return Message(text="\n".join([*lines, "Practice is over."]))
    more = table.share - len(held)
    had = "" if more > 0 else "You have booked your share. "
    if isinstance(can, datetime):
        lines.append(f"{had}You can book from {full(can)}, if a turn is left then.")
    elif not can:
        lines.append(f"{had}There are no turns left to book.")
    elif more > 0:
        lines.append(f"You may book {count(more, 'more turn' if held else 'turn')} now.")
    else:
        lines.append(f"{had}You may book one that is left over.")
    hours = count(table.practice.give_back_hours, "hour")
    lines.append(f"-# Anyone in the squad can press. A turn can be given back until {hours} before it begins.")
    book = BOOK if can is True else BOOK.model_copy(update={"style": "plain", "disabled": True})
    return Message(text="\n".join(lines), rows=((book, GIVE.model_copy(update={"disabled": not held}), ALL),))


def pick(zone: ZoneInfo, begins: Sequence[datetime], page: int) -> Message:
    """Pick the turn to book."""
    return _choose(
        zone,
        begins,
        page,
        ActionKey.PRACTICE_BOOKED,
        ActionKey.PRACTICE_BOOK,
        "Which turn would you like?",
        "Pick a turn",
    )


def pick_back(zone: ZoneInfo, begins: Sequence[datetime], page: int) -> Message:
    """Pick the turn to give back."""
    prompt = "Which turn do you want to give back? Another squad can then have it."
    return _choose(
        zone, begins, page, ActionKey.PRACTICE_GIVEN, ActionKey.PRACTICE_GIVE, prompt, "Pick a turn to give back"
    )


def _choose(
    zone: ZoneInfo, begins: Sequence[datetime], page: int, action: ActionKey, turns: ActionKey, text: str, prompt: str
) -> Message:
    listed = list_page(choices(zone, begins), page, prompt, key(action), partial(key, turns))
    return Message(text=text + listed.line, rows=listed.rows)


def choices(zone: ZoneInfo, begins: Sequence[datetime], notes: Sequence[str] = ()) -> tuple[Choice, ...]:
    """Turns to pick from, in the plan's own time."""
    return tuple(
        choice(value(begin), short_moment(begin.astimezone(zone)), note)
        for begin, note in zip(begins, notes or [""] * len(begins), strict=True)
    )


def value(begin: datetime) -> str:
    """What a choice of a turn carries: its beginning in seconds."""
    return str(int(begin.timestamp()))


def booked(begin: datetime, squad: Squad, more: bool) -> Message:
    """The turn is yours; `more` where another one can be booked at once."""
    another = (Button(key=BOOK.key, label="Book another turn"),) if more else ()
    return Message(text=f"Booked: {full(begin)}.\n{_where(squad)}", rows=((*another, ALL),))


def _where(squad: Squad) -> str:
    """Where all turns of a squad stand."""
    return f"All your turns are in your squad's room{'' if squad.room_id is None else f': <#{squad.room_id}>'}."


@posted(Sign.PRACTICE)
def told_booked(begin: datetime, by_coach: bool = False) -> Message:
    """Told in the squad's room."""
    who = "Your coach has booked a turn at the practice table for you" if by_coach else "A turn at the table is booked"
    return Message(text=f"{who}: {full(begin)}.")


def given(begin: datetime, squad: Squad) -> Message:
    """The turn is given back."""
    return Message(
        text=f"Given back: {full(begin)}. Thank you, another squad can have it now.\n{_where(squad)}",
        rows=((BOOK, ALL),),
    )


@posted(Sign.PRACTICE)
def told_given(begin: datetime) -> Message:
    """Told in the squad's room."""
    return Message(text=f"The turn at the table on {full(begin)} is given back.")


def _again(can: datetime | bool, it: str) -> tuple[str, tuple[Row, ...]]:
    """What a squad can do that has lost a turn: book now, book from `can` on, or nothing."""
    if isinstance(can, datetime):
        return f" {it} You can book from {full(can)}, if a turn is left then.", ()
    return (f" {it} You may book another one.", ((BOOK,),)) if can else (f" {it} There are no turns left to book.", ())


@posted(Sign.PRACTICE)
def told_lost(begin: datetime, can: datetime | bool) -> Message:
    """Told in the room of a squad whose turn was lost through equipment; `can` as in its live message."""
    more, rows = _again(can, "It does not count as one of yours.")
    return Message(text=f"Your turn on {full(begin)} was lost because something was broken.{more}", rows=rows)


@posted(Sign.PRACTICE)
def told_not_lost(begin: datetime) -> Message:
    """Told in the room of a squad whose turn was not lost after all."""
    return Message(text=f"Your turn on {full(begin)} counts after all.")


@posted(Sign.PRACTICE)
def told_blocked(begin: datetime, can: datetime | bool) -> Message:
    """Told in the room of a squad whose turn cannot take place; `can` as in its live message."""
    more, rows = _again(can, "You have the turn back.")
    return Message(text=f"The table cannot be used on {full(begin)}.{more}", rows=rows)


@posted(Sign.PRACTICE)
def told_taken_back(begin: datetime, can: datetime | bool) -> Message:
    """Told in the room of a squad whose turn the coach has given back; `can` as in its live message."""
    more, rows = _again(can, "You have the turn back.")
    return Message(text=f"Your coach has given your turn on {full(begin)} back.{more}", rows=rows)


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


def state(turn: Turn | None, names: Mapping[int, str]) -> str:
    """Who has a turn, or that it is free."""
    if turn is None:
        return "free"
    if turn.squad_id is None:
        return "closed"
    name = f"**{escape(names.get(turn.squad_id, '?'))}**"
    return f"{name} (lost)" if turn.state == "lost" else name


def times_text(practice: Practice) -> str:
    """When turns begin, for the coach."""
    return f"{listing([time_text(at) for at in sorted(practice.times)])}, {practice.minutes} minutes each"
