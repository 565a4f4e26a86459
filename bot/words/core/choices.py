"""Choices of a list: labels that fit and are harmless."""

from bot.words.core.plain_text import cut
from storage.records.message import Choice

LABEL = 100
"""The most characters of a label, and of the note below it."""


def choice(value: object, label: str, note: str = "", chosen: bool = False) -> Choice:
    """One entry of a list, with people's words in it: nothing hidden, and shortened where it is too long."""
    return Choice(value=str(value), label=cut(label, LABEL), note=cut(note, LABEL), chosen=chosen)
