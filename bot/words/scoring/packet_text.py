"""What goes along with a results packet, and what a person reads when it is verified: one line for each stage."""

from collections.abc import Sequence
from hashlib import sha256
from importlib.resources import files

from bot.rules.core.refusal_reasons import Reason
from bot.rules.scoring.packet_verify import Stage
from bot.words.core.number_text import count

REFUSALS = {
    Reason.PACKET_LARGE: "This file is larger than {most} bytes, so it is no results packet. Check which file it is.",
    Reason.PACKET_VERSION: "This packet is of version {version}; this program knows version {known}. Use a newer "
    "program.",
    Reason.PACKET_UNREADABLE: "This file is no whole results packet (at {where}: {problem}). Ask for a fresh copy.",
    Reason.PACKET_TWICE: "This packet holds {where} twice, so it cannot be recomputed. Ask for a fresh copy.",
    Reason.PACKET_KEY_TWICE: "This file holds {where} twice in one place, so nobody can say which counts. "
    "Ask for a fresh copy.",
    Reason.PACKET_FOREIGN: "This packet holds {where}, which belongs to nothing else in it. Ask for a fresh copy.",
}

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
SHOWN = 5
"""Differences of one stage that are written out."""
LONGEST = 300
"""Signs of one line; a longer one is cut, so that a packet cannot flood the screen."""


def stage_lines(stage: Stage) -> list[str]:
    """One stage as lines: right or wrong, and the first differences."""
    name = NAMES[stage.name]
    if stage.right:
        return [f"right   {name} ({stage.checked})"]
    lines = [f"WRONG   {name} ({len(stage.differences)} of {stage.checked})"]
    lines += [
        f"        {each.where}: the packet says {each.claimed}, recomputed it is {each.found}"
        for each in stage.differences[:SHOWN]
    ]
    more = len(stage.differences) - SHOWN
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


def formulas_text() -> str:
    """How every number of a result is made, as a text that a stranger can recompute a packet by."""
    return files("bot.words.scoring").joinpath("formulas.md").read_text("utf-8")
