"""What the coach reads when something could not be delivered.

Each cause of trouble has one line, said once for each place.
"""

from collections.abc import Sequence

from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from storage.records.message import Button, Message

WHY = {
    "closed": "takes no direct messages",
    "gone": "the room is gone",
    "forbidden": "I am not allowed to write there",
    "refused": "the platform did not accept the message",
    "fault": "a mistake of mine",
    "too-late": "it came too late to be of use",
    "erased": "all names were erased before it could be sent",
    "withdrawn": "the squad has withdrawn",
    "removed": "the judge was removed",
    "nowhere": "there is no such place",
    "deleted": "someone deleted it",
}
"""Short reasons, as they stand beside a message in lists."""

_LINES = {
    "closed": (
        "{place} takes no direct messages from me. I am opening a private room for this judge instead; "
        "everything goes there from now on. You need not do anything."
    ),
    "reopened": (
        "I can no longer find the private room of {place}; perhaps it was deleted. "
        "I am opening a new one. The messages in the old one are lost."
    ),
    "gone": (
        "I could not deliver a message for {place}: the room is gone. "
        "Please choose the rooms again in the set-up, then press the button."
    ),
    "forbidden": (
        "I could not deliver a message for {place}: I am not allowed to write there. "
        "Please give me the rights that the set-up lists, then press the button."
    ),
    "refused": (
        "The platform did not accept a message of mine for {place}, so it was not sent. "
        "Please tell people what they missed."
    ),
    "fault": (
        "I could not deliver a message for {place} because of a mistake of mine (code {code}). "
        "Please report the code, then press the button."
    ),
    "no-room": (
        "I could not open or fill the private room of {place}. Please check that I may make private threads "
        "in the squads channel, write in them and add people; I try again every few minutes."
    ),
    "no-pin": "I could not pin a message for {place}. Please pin it by hand, or give me the right to pin messages.",
    "live-message": (
        "I could not update a message for {place}: {why}. What it shows may be out of date. "
        "Please check my rights with the set-up."
    ),
}

MENDED_BY_COACH = ("gone", "forbidden", "fault", "no-room")
MOST_NAMED = 25
"""More people than this who cannot be let into a room are counted and not named."""
AGAIN = Button(key=key(ActionKey.POST_AGAIN), label="Try again", style="main")


def trouble(cause: str, place: str, code: str = "", why: str = "") -> Message:
    """The one message about a cause of trouble at a place; where the coach can mend it, with a button."""
    text = _LINES[cause].format(place=place, code=code, why=why)
    return Message(text=text[0].upper() + text[1:], rows=((AGAIN,),) if cause in MENDED_BY_COACH else ())


def not_in_room(place: str, people: Sequence[int]) -> Message:
    """Some people could not be added to a squad's room; they are named by mention, which rings nobody."""
    who = listing([f"<@{person}>" for person in people]) if len(people) <= MOST_NAMED else f"{len(people)} people"
    return Message(
        text=(
            f"I could not add {who} to the room of {place}. Perhaps they left the server or may not see the "
            "squads channel. Please let them see it, then press the button."
        ),
        rows=((AGAIN,),),
    )


def trying_again(messages: int) -> Message:
    """The coach asked for another try."""
    what = count(messages, "message") if messages else "no message"
    return Message(text=f"I am trying again: {what} had not got through. What still fails I will tell you here.")


def channel(kind: str, room_id: int | None) -> str:
    """A channel of the class server, as the coach knows it."""
    return f"the {kind} channel" + (f" <#{room_id}>" if room_id else "")


def squad(number: int, name: str) -> str:
    """A squad, as the coach knows it."""
    return f"squad {number}, {escape(name)}"


def judge(name: str) -> str:
    """A judge, as the coach knows them."""
    return f"judge {escape(name)}"
