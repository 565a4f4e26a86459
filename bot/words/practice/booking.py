"""Booking turns at the practice table and giving them back, as squads read it."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial
from zoneinfo import ZoneInfo

from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.booking import bookable
from bot.rules.practice.practice_table import PracticeTable
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full, short_moment
from storage.records.message import Button, Choice, Message, Row
from storage.records.people import Squad

BOOK = Button(key=key(ActionKey.PRACTICE_BOOK), label="Book a turn", style="main")
GIVE = Button(key=key(ActionKey.PRACTICE_GIVE), label="Give a turn back")
ALL = Button(key=key(ActionKey.PRACTICE_TURNS), label="All turns")

REFUSALS = {
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
    Reason.TURN_NOT_YOURS: "Your squad does not have that turn any more.",
    Reason.TURN_TOO_CLOSE: "It begins in less than {hours} hours, so it is too late to give it back. Tell your coach.",
}
LEAD_ON: Mapping[Reason, tuple[Row, ...]] = {
    **dict.fromkeys((Reason.TURN_TAKEN, Reason.TURN_OVER, Reason.NO_SUCH_TURN), ((BOOK, ALL),)),
    **dict.fromkeys((Reason.NO_TURNS_FREE, Reason.NO_TURNS_YET), ((ALL,),)),
}
"""Where these refusals lead."""


def book_button(table: PracticeTable, squad: int, now: datetime) -> Button:
    """The button for a turn, switched off while there is none that the squad could book."""
    return BOOK if bookable(table, squad, now) else BOOK.model_copy(update={"style": "plain", "disabled": True})


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
