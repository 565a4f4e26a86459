"""Practice turns that cannot take place: lost through equipment, closed or taken back by the coach, or gone with dates.

After dates were moved or days closed: which turns are gone, and how long their squads choose first.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.practice_table import PracticeTable
from storage.records.plan import Practice
from storage.records.practice import Turn

CLAIM = timedelta(days=1)
"""For so long after days were closed, squads that lost turns choose first."""


def chooses_first_until(practice: Practice | None, now: datetime) -> datetime | None:
    """Until when squads that lost turns choose first; None where the changed plan has no practice any more."""
    return None if practice is None else now + CLAIM


def stranded(slots: Sequence[datetime], turns: Sequence[Turn], now: datetime) -> list[Turn]:
    """The turns to come that begin when no turn begins any more, after dates were moved."""
    kept = set(slots)
    return [turn for turn in turns if turn.begins_at > now and turn.begins_at not in kept and turn.state != "lost"]


def why_lost_first(table: PracticeTable, squad: int, now: datetime) -> Refusal | None:
    """Why a squad must wait: others lost turns as days were closed, and choose first; None where it need not.

    The Refusal is `lost_first` (opens: seconds).
    """
    first = max(table.claims.values(), default=now)
    if now >= first or squad in table.claims:
        return None
    return Refusal(Reason.LOST_FIRST, opens=int(first.timestamp()))


def check_held(table: PracticeTable, begin: datetime) -> int:
    """The squad that has a turn, which the coach can note as lost, also when it is over. Raises `turn_not_held`."""
    return _squad_with(table, begin, "held")


def check_lost(table: PracticeTable, begin: datetime) -> int:
    """The squad that has lost a turn, which the coach can take back. Raises `turn_not_held`."""
    return _squad_with(table, begin, "lost")


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


def _squad_with(table: PracticeTable, begin: datetime, state: Literal["held", "lost"]) -> int:
    turn = table.by_begin.get(begin)
    if turn is None or turn.state != state or turn.squad_id is None:
        raise Refusal(Reason.TURN_NOT_HELD)
    return turn.squad_id
