"""A step of a try-out is asked once more before it is taken."""

from bot.words.core.buttons import BACK
from bot.words.core.text_as_file import whole_message
from storage.records.message import Button, Message

CHANGED = "**The plan has changed since you looked**, so nothing is done yet. This is what would be said now:\n"
"""Over what is shown anew."""


def confirm_step(text: str, yes: Button) -> Message:
    """Ask once before a step of the try-out."""
    return whole_message(text, ((yes, BACK),))
