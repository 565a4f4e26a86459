"""Who leads a squad, and who follows the captain who leaves; and what only the captain may do."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad, Student


def first_captain(founders: Sequence[Student]) -> Student:
    """Who leads a squad that is founded out of a proposal: the first who has an account, else the first of all."""
    return next((one for one in founders if one.platform_id is not None), founders[0])


def leads_on_arrival(squad: Squad) -> bool:
    """Whether a member who comes leads the squad from then on: where nobody leads it."""
    return squad.captain_id is None


def next_captain(squad: Squad, stay: Sequence[Student]) -> Student | None:
    """Who leads when someone leaves: the captain, else the member who joined first; None when nobody is left."""
    for member in stay:
        if member.id == squad.captain_id:
            return member
    return min(stay, key=lambda one: (one.joined_at is not None, one.joined_at, one.id), default=None)


def check_others(others: Sequence[Student]) -> None:
    """There are other members, to whom the captain can hand over or who can be removed. Raises `captain_alone`."""
    if not others:
        raise Refusal(Reason.CAPTAIN_ALONE)


def check_captain(student: Student, squad: Squad) -> None:
    """Only the captain renames the squad, hands over and removes members.

    Raises:
        Refusal: `only_captain`.
    """
    if squad.captain_id != student.id:
        raise Refusal(Reason.ONLY_CAPTAIN)
