"""Who can read something, as a sentence; every screen that promises privacy takes it from here."""

from bot.rules.core.who_reads import Kind, Reader, readers
from bot.rules.results.own_result import RANGE_FROM
from bot.words.core.lists_in_text import listing

_NAMES: dict[Reader, str] = {
    "you": "you",
    "squad": "your squad",
    "panel": "the judges of your squad",
    "scorekeepers": "scorekeepers",
    "coaches": "coaches",
    "everyone": "everyone in this channel",
}

SEALED = (
    "Before judging is closed nobody can read totals or an order, coaches included. A mark can be read by the judge "
    "who gave it; one on paper also by whoever enters it."
)
"""What sealed judging promises, to coaches."""
MARKS = (
    "Coaches can read your marks once judging is closed. What you mark on paper is read by whoever enters it. "
    f"A squad reads the mean of its judges, from {RANGE_FROM} judges on the lowest and the highest mark, too, and no "
    "names. If you alone mark a squad, the mean is your mark, and it may know that it is yours."
)
"""What becomes of marks, for judges, who read it before they mark."""


def who_reads(kind: Kind, what: str = "this") -> str:
    """Such as `Only your squad and coaches can read this.`"""
    found = readers(kind)
    people = listing([_NAMES[one] for one in found])
    return f"{'' if found == ('everyone',) else 'Only '}{people} can read {what}.".replace("everyone", "Everyone", 1)
