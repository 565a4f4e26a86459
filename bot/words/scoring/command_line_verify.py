"""What `tenbell verify` prints: the packet's own stages, then what a database says about it."""

from collections.abc import Sequence
from dataclasses import dataclass

from bot.words.core.number_text import count
from bot.words.scoring.packet_text import harmless

AS_IT_STANDS = (
    "What was recorded is taken as it stands in the packet. Whether it was recorded so, only the bot's database "
    "can say (--database FILE)."
)


@dataclass(frozen=True)
class Check:
    """One thing that was checked against the database."""

    right: bool
    text: str
    by_hand: bool = False
    """Whether a person has to compare it."""


def chain_check(entries: int, broken: int | None) -> Check:
    """Whether the trail is whole; `broken` is the number of the first entry that does not follow."""
    if broken is None:
        return Check(True, f"chain of the trail ({count(entries, 'entry', 'entries')})")
    return Check(False, f"chain of the trail: entry {broken} was altered, or one before it is missing")


def trail_check(digest: str) -> Check:
    """What the trail ended in at the announcement; whoever writes the whole trail anew cannot change the office's."""
    text = f"at the announcement the trail ended in {digest}; the office's message must say the same"
    return Check(True, text, by_hand=True)


def seals_check(sheets: int, altered: int) -> Check:
    """Whether the marks in the database are those that the trail says were saved."""
    if not altered:
        return Check(True, f"marks as the trail says they were saved ({count(sheets, 'sheet')})")
    return Check(False, f"marks of {count(altered, 'sheet')} are not those that the trail says were saved")


def same_check(same: bool) -> Check:
    """Whether the database gives this very packet."""
    if same:
        return Check(True, "the database gives this very packet")
    return Check(False, "the database gives another packet: something was recorded or changed since")


def no_such_plan() -> Check:
    """No try-out in the database was held by the packet's plan."""
    return Check(False, "no try-out in this database was held by this plan")


def verified(lines: Sequence[str], posted: str, verdict: str, checks: Sequence[Check]) -> str:
    """Everything that was checked, one line each, the plan's fingerprint, and the last word on it."""
    taken = [] if checks else [AS_IT_STANDS]
    shown = [*lines, *(f"{_word(check):8}{check.text}" for check in checks)]
    wrong = [check for check in checks if not check.right]
    last = [verdict] if not wrong else [verdict, "The database does not bear it out."]
    return "\n".join((*map(harmless, shown), "", posted, *taken, "", *last))


def _word(check: Check) -> str:
    return "compare" if check.by_hand else "right" if check.right else "WRONG"


def written(file: str) -> str:
    """A packet was written to a file."""
    return f"The results packet is in {file}. Check it with: tenbell verify {file}"
