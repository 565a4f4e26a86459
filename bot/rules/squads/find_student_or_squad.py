"""Finding a student or a squad by a few letters: how many, which names fit, and which come first."""

from collections.abc import Iterable
from typing import Final

SHORTEST: Final = 1
LONGEST: Final = 100
"""Letters that are typed to find somebody."""


def fits(name: str, said: str) -> bool:
    """Whether a name holds these letters, in either case."""
    return said.casefold() in name.casefold()


def order(name: str, said: str) -> tuple[bool, str]:
    """By what found names are sorted: those of which a word begins with the letters come first."""
    begins: Iterable[str] = (name.casefold(), *name.casefold().split())
    return not any(word.startswith(said.casefold()) for word in begins), name.casefold()
