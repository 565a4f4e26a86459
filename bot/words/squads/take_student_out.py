"""A student is taken out of a squad by the coach: asked once, with what the squad's room will read."""

from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import STUDENTS
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape, quoted
from bot.words.squads.squad_room import went
from storage.records.message import Button, Message
from storage.records.people import Squad, Student


def sure_to_take_out(one: Student, squad: Squad) -> Message:
    """Ask once before a student is taken out of a squad."""
    return Message(
        text=f"Take **{escape(one.name)}** out of **{escape(squad.name)}**? The squad's room reads:\n"
        f"{quoted(went(one.name, None).text)}",
        rows=(
            (
                Button(key=key(ActionKey.PEOPLE_TAKEN, one.id), label="Yes, take out", style="danger"),
                STUDENTS,
            ),
        ),
    )
