"""A share that the bot itself counted from the parts handed in: read back for all squads, and saved in one press."""

from collections.abc import Sequence
from dataclasses import dataclass

from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import TABLE, all_squads_button
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from storage.records.message import Button, Message
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Measure


@dataclass(frozen=True)
class Counted:
    """What was counted for one squad."""

    squad: Squad
    there: int
    """Members whose part is in."""
    members: int


def read_all_back(event: Event, measure: Measure, found: Sequence[Counted], stamp: str) -> Message:
    """Every squad that has no number yet, with what was counted; `stamp` names exactly these numbers."""
    about = f"{event.key}.{measure.key}"
    back = Button(key=key(ActionKey.TABLE_SQUADS, 0, about), label="One by one")
    if not found:
        return Message(text="Every squad has its number here already.", rows=((back, TABLE),))
    lines = "\n".join(
        f"- {one.squad.number} {escape(one.squad.name)}: {one.there} of {one.members}"
        + (" (part missing)" if one.there < one.members else "")
        for one in found
    )
    text = (
        f"**{escape(event.name)}, {escape(measure.name)}**: these parts were handed in.\n{lines}\n"
        "Is that right? If a number is wrong, you can enter that squad by itself, before or after."
    )
    save = Button(key=key(ActionKey.TABLE_COUNTED_SAVED, about, stamp), label=f"Save all {len(found)}", style="main")
    return whole_message(text, ((save, back),))


def all_saved(event: Event, measure: Measure, saved: int) -> Message:
    """All are on record; each can be undone by itself."""
    back = all_squads_button(f"{event.key}.{measure.key}")
    return Message(
        text=f"Saved for {count(saved, 'squad')}. Each number can be undone by itself: pick the squad.",
        rows=((back, TABLE),),
    )
