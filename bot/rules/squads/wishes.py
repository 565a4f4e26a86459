"""Private wishes: who may have some, of whom they may say something, and in which order they stand there."""

from collections.abc import Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Student


def others_in_order(me: Student, everybody: Iterable[Student]) -> list[Student]:
    """Everybody else of somebody's section, by name."""
    others = [one for one in everybody if one.section == me.section and one.id != me.id]
    return sorted(others, key=lambda one: (one.name.casefold(), one.id))


def check_may_wish(me: Student | None) -> Student:
    """Wishes are for who is known and has no squad. Raises Refusal `who_are_you`, `wishes_have_squad`."""
    if me is None:
        raise Refusal(Reason.WHO_ARE_YOU)
    if me.squad_id is not None:
        raise Refusal(Reason.WISHES_HAVE_SQUAD)
    return me
