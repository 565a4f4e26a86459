"""What `tenbell packet` and `tenbell verify` print: one line for each stage, then what a database says about it."""

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256

from bot.rules.scoring.packet_verify import Stage
from bot.words.core.number_text import count

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


NAMES = {
    "plan_sha256": "fingerprint of the plan",
    "plan": "the plan itself",
    "recompute": "everything after the plan",
    "attempts": "values of the attempts",
    "sheets": "values of the score sheets",
    "judge_effects": "harsh and lenient judges",
    "values": "values of the squads",
    "scaled": "values on their scales",
    "events": "points of the events",
    "totals": "totals",
    "ranks": "ranks",
    "ties": "ties that remain",
    "placed": "squads that hold a place",
    "straddle": "squads that tie for the last place",
    "missing": "what is missing",
}


DIFFERENCES_SHOWN = 5
"""So many differences of one stage are written out; of more only how many."""
LONGEST = 300
"""Signs of one line; a longer one is cut, so that a packet cannot flood the screen."""
NOTHING, WHOLE = "nothing", {"plan": "a plan", "recompute": "a result"}
"""What is said where a value is not there; what the packet claims to hold, by the stage that shows that it does not."""


def stage_lines(stage: Stage) -> list[str]:
    """One stage as lines: right or wrong, and the first differences."""
    name = NAMES[stage.name]
    if stage.right:
        return [f"right   {name} ({stage.checked})"]
    lines = [f"WRONG   {name} ({len(stage.differences)} of {stage.checked})"]
    lines += [
        f"        {each.where}: the packet says {each.claimed or WHOLE.get(stage.name, NOTHING)}, "
        f"recomputed it is {each.found or NOTHING}"
        for each in stage.differences[:DIFFERENCES_SHOWN]
    ]
    more = len(stage.differences) - DIFFERENCES_SHOWN
    return [*lines, f"        and {more} more"] if more > 0 else lines


def visible(text: str) -> str:
    """A text that a terminal only shows: what is no visible sign is written as its code.

    A packet may come from anybody, and signs that steer a terminal could wipe the true verdict from the screen.
    """
    return "".join(sign if sign.isprintable() else f"<{ord(sign):x}>" for sign in text)


def harmless(line: str) -> str:
    """A line of a report made visible, and cut where it is too long."""
    seen = visible(line[:LONGEST])
    return seen if len(line) <= LONGEST else f"{seen} ..."


def posted_line(plan: str) -> str:
    """The fingerprint that the plan really has, and what to compare it with."""
    found = sha256(plan.encode()).hexdigest()
    return f"Fingerprint of the plan in this packet (SHA-256): {found}\nCompare it with the one posted with the brief."


def verdict(stages: Sequence[Stage]) -> str:
    """The last line: the packet holds, or where it first does not."""
    for stage in stages:
        if not stage.right:
            return f"This packet does not hold: the first difference is in: {NAMES[stage.name]}."
    checked = sum(stage.checked for stage in stages)
    return f"This packet holds: {count(checked, 'number')} recomputed, all as it says."
