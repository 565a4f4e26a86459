"""Sign-up closes: what the office reads, and the room of a squad that is too small."""

from collections.abc import Sequence

from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from storage.records.message import Message
from storage.records.people import Squad


@posted(Sign.SQUAD)
def signup_closed_for(squad: Squad, missing: int) -> Message:
    """Told in the room of a squad that is too small when sign-up closes."""
    return Message(
        text=f"Sign-up is closed, and **{escape(squad.name)}** needs {missing} more. "
        "Your coach knows and will talk to you."
    )


def signup_closed(squads: int, small: Sequence[str], alone: int) -> Message:
    """Told in the office when sign-up closes."""
    lines = [f"**Sign-up is closed.** {count(squads, 'squad')} take part." if squads != 1 else "**Sign-up is closed.**"]
    if small:
        lines.append(f"Too small: {', '.join(escape(name) for name in small)}.")
    if alone:
        lines.append(f"{count(alone, 'student')} without a squad.")
    if small or alone:
        lines.append(
            "Open /people: there I can propose squads. Small ones can wait, stay small, merge or be taken out."
        )
    return whole_message("\n".join(lines))
