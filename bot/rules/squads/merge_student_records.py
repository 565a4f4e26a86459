"""Two records of one student are joined: in which order the other one is offered, and when they may be."""

from collections.abc import Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad, Student


def in_order(one: Student, others: Iterable[tuple[Student, Squad | None]]) -> list[tuple[Student, Squad | None]]:
    """Students who may be the same as one, with their squads: those of the same section first, then by name."""
    return sorted(others, key=lambda row: (row[0].section != one.section, row[0].name.casefold()))


def check_same_student(one: Student, other: Student, clash: bool) -> None:
    """Two records may become one unless it would have to be guessed which half counts.

    `clash`: both have handed in a part of one piece, or are ticked for one event.

    Raises:
        Refusal: `same_record`, `two_accounts`, `two_squads`, `two_parts` (name, other).
    """
    fields = {"name": one.name, "other": other.name}
    if one.id == other.id:
        raise Refusal(Reason.SAME_RECORD, **fields)
    if one.platform_id is not None and other.platform_id is not None:
        raise Refusal(Reason.TWO_ACCOUNTS, **fields)
    if one.squad_id is not None and other.squad_id is not None and one.squad_id != other.squad_id:
        raise Refusal(Reason.TWO_SQUADS, **fields)
    if clash:
        raise Refusal(Reason.TWO_PARTS, **fields)
