"""A squad that is not there for its run: asked once, what follows, and what the coach decides."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.no_show import MOST_MISSES
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.mentions import called, to_ring
from bot.words.core.number_text import in_words
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import clock
from storage.records.event_day import DaySlot
from storage.records.message import Button, Message
from storage.records.people import Squad, Student

OFTEN = "twice" if MOST_MISSES == 1 else f"{in_words(MOST_MISSES + 1)} times"
"""How often a squad was not there when the coach decides."""
REFUSALS = {
    DayReason.MISSED_TWICE: "That squad was not here before. Now the coach decides: a message about it stands in the "
    "office.",
    DayReason.NOT_ITS_TIME: "Its time is <t:{at}:t>. Before that it is not late, so nothing was noted. Another squad "
    "can run meanwhile: press **Table**.",
}


def sure_missed(squad: Squad, slot: DaySlot, last: bool) -> Message:
    """Ask once: the squad is told; `last`: it was not there before, so that the coach decides."""
    name = f"**{squad.number} {escape(squad.name)}**"
    then = "It was not here before, so the coach decides." if last else "This run comes later, and the squad is told."
    gone = Button(key=key(DayKey.DAY_MISSED, slot.id, slot.misses), label="It is not here", style="danger")
    back = Button(key=key(DayKey.DAY_BOARD), label="Back to the board", style="main")
    return Message(text=f"Is {name} really not here? {then}", rows=((back, gone),))


def went_to_the_end(squad: Squad, slot: DaySlot) -> str:
    """A squad was not there for the first time."""
    name = f"{squad.number} {escape(squad.name)}"
    return f"**{name}** was not here: the run comes at {clock(slot.begins_at)} now. The squad has been told."


def coach_decides(squad: Squad) -> str:
    """A squad was not there a second time."""
    return f"**{squad.number} {escape(squad.name)}** was not here again. It is left out for now, and the coach decides."


def decided_already(squad: Squad) -> str:
    """Another coach has let the squad run since the message in the office was written."""
    return f"**{squad.number} {escape(squad.name)}**: that is decided already, so nothing was changed."


@posted(Sign.DAY)
def comes_later(event: str) -> Message:
    """Told in a squad's room before its new time: why it has one."""
    return Message(
        text=f"Your squad was not at the table when it was your turn for **{escape(event)}**. You still get this run: "
        "your squad's times in this room say when."
    )


@posted(Sign.DAY)
def see_your_coach(event: str, members: Sequence[Student]) -> Message:
    """Told in a squad's room when it was not there twice; it rings for its members, who have to act."""
    who = f" {called(members, True)}" if members else ""
    return Message(
        text=f"Your squad was not at the table again for **{escape(event)}**. Please go to your coach now. Your coach "
        f"decides how it goes on.{who}",
        ping=to_ring(members),
    )


@posted(Sign.DAY)
def to_the_coach(squad: Squad, slot: DaySlot, event: str, about: str) -> Message:
    """Told in the office: a squad was not there so often that the coach decides."""
    text = (
        f"**{squad.number} {escape(squad.name)}** was not here {OFTEN} for {escape(event)}. Is it absent, excused, or "
        "does it run later? Until you decide the table goes on without it."
    )
    absent = Button(key=key(ActionKey.TABLE_ABSENCE, about, squad.id), label="Absent or excused")
    again = Button(key=key(DayKey.DAY_CLOSED, slot.id), label="Let it run at the end", style="main")
    return Message(text=text, rows=((again, absent),))
