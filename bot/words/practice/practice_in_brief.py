"""Practice turns as the brief tells of them: at what times, how long, and where they are booked."""

from bot.words.practice.practice_table import times_text
from storage.records.plan import Practice


def practice_in_brief(practice: Practice) -> str:
    """What the brief says about practice."""
    return (
        f"**Practice at the table**\nTurns on school days at {times_text(practice)}. "
        "Book a turn in your squad's room: every squad gets the same number first."
    )
