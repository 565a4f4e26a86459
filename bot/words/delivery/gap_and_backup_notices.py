"""What the coach reads after the bot was away while something was due, and when the nightly backup does not work."""

from collections import Counter
from collections.abc import Sequence
from datetime import datetime
from typing import Literal

from bot.words.core.job_names import DUE
from bot.words.core.number_text import count
from bot.words.core.times import full, full_and_relative
from storage.records.message import Message

Why = Literal["stopped", "asleep", "network"]
_WHY: dict[Why, str] = {
    "stopped": "I was not running (stopped, or the computer was off)",
    "asleep": "the computer I run on was asleep",
    "network": "I could not reach the platform (network or platform down)",
}
_MEND: dict[Why, str] = {
    "stopped": "Please ask whoever runs me to leave me running.",
    "asleep": "Please ask whoever runs me to switch off its sleep, or to run me on a computer that stays on.",
    "network": "Nothing needs to be done; if it happens often, ask whoever looks after the network.",
}


MOST_LINES = 12
"""More is counted on the last of them."""


def came_late(since: datetime, until: datetime, why: Why, late: Sequence[tuple[str, bool, datetime]]) -> Message:
    """What came late. Each of `late` is a kind of what is due, or a place to which a message goes, and when."""
    lines = [f"- {DUE.get(what, what)}: {full_and_relative(at)}" for what, message, at in late if not message]
    places = Counter(what for what, message, _ in late if message)
    lines += [f"- {place}: {count(number, 'message')}" for place, number in places.items()]
    if len(lines) > MOST_LINES:
        lines = [*lines[: MOST_LINES - 1], f"- and {len(lines) - MOST_LINES + 1} more"]
    text = (
        f"**I was away** from {full(since)} to {full(until)}: {_WHY[why]}. This comes late because of that:\n"
        + "\n".join(lines)
        + "\nI catch up now; what would come too late is left out and listed in the daily digest. "
        + _MEND[why]
    )
    return Message(text=text)


def backup_failing(why: str) -> Message:
    """The coach learns that backups do not work; said once until one works again."""
    return Message(
        text=f"I could not back up the try-out last night: {why}. The try-out goes on and nothing is lost. "
        "Please ask whoever runs me to look at the disk; I try again every night."
    )
