"""All turns as the coach sees them: which page comes first, who has few, and what can be done with which turn."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.practice_table import PracticeTable
from storage.records.people import Squad


def page_of_next_turn(slots: Sequence[datetime], now: datetime, size: int) -> int:
    """The page, from 0, on which the next turn stands; after the last turn has begun, the last page.

    `size`: how many turns a page holds.
    """
    past = sum(begin <= now for begin in slots)
    return min(past, max(0, len(slots) - 1)) // size


def fewest_first(table: PracticeTable, squads: Sequence[Squad]) -> list[tuple[int, list[Squad]]]:
    """Squads by how many turns they have; those with the fewest come first."""
    by_number: dict[int, list[Squad]] = {}
    for squad in squads:
        by_number.setdefault(len(table.held(squad.id)), []).append(squad)
    return sorted(by_number.items())


def check_held(table: PracticeTable, begin: datetime) -> int:
    """The squad that has a turn, which the coach can note as lost, also when it is over. Raises `turn_not_held`."""
    turn = table.by_begin.get(begin)
    if turn is None or turn.state != "held" or turn.squad_id is None:
        raise Refusal(Reason.TURN_NOT_HELD)
    return turn.squad_id


def check_lost(table: PracticeTable, begin: datetime) -> int:
    """The squad that has lost a turn, which the coach can take back. Raises `turn_not_held`."""
    turn = table.by_begin.get(begin)
    if turn is None or turn.state != "lost" or turn.squad_id is None:
        raise Refusal(Reason.TURN_NOT_HELD)
    return turn.squad_id


def check_may_release(table: PracticeTable, begin: datetime, now: datetime) -> int:
    """The squad for which the coach gives a turn back, until it begins. Raises `turn_not_held`, `turn_over`."""
    squad_id = check_held(table, begin)
    if begin <= now:
        raise Refusal(Reason.TURN_OVER)
    return squad_id


def check_may_close(table: PracticeTable, begin: datetime, now: datetime) -> int | None:
    """The squad whose turn the coach closes before it begins; None where it was free. Raises as `check_free`."""
    turn = table.by_begin.get(begin)
    if turn is None or turn.state != "held":
        table.check_free(begin, now)
        return None
    if begin <= now:
        raise Refusal(Reason.TURN_OVER)
    return turn.squad_id


def check_closed(table: PracticeTable, begin: datetime) -> None:
    """Only a turn that the coach has closed is opened again. Raises `turn_not_blocked`."""
    turn = table.by_begin.get(begin)
    if turn is None or turn.state != "blocked":
        raise Refusal(Reason.TURN_NOT_BLOCKED)
