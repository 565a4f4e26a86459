"""The results packet: the page of formulas that goes along with it, and why a file is none."""

from importlib.resources import files

from bot.rules.core.refusal_reasons import Reason

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


def formulas_text() -> str:
    """How every number of a result is made, as a text that a stranger can recompute a packet by."""
    return files("bot.words.scoring").joinpath("formulas.md").read_text("utf-8")
