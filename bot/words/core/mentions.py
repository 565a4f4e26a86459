"""People named in a message, and rung where they have to act: in their own room only, never everybody at once."""

from collections.abc import Sequence

from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from storage.records.people import Student


def called(people: Sequence[Student], rings: bool) -> str:
    """Students by name; where it `rings`, those with an account as a mention."""
    return listing([_called(one, rings) for one in people])


def to_ring(people: Sequence[Student]) -> tuple[int, ...]:
    """The accounts of those whom a message rings."""
    return tuple(dict.fromkeys(one.platform_id for one in people if one.platform_id is not None))


def _called(one: Student, rings: bool) -> str:
    return f"<@{one.platform_id}>" if rings and one.platform_id is not None else escape(one.name)
