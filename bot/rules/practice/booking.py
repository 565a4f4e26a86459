"""Booking turns at the practice table: while what, who may book which and when, and until when one may be given back.

Every squad may book the same number first (its *share*). What nobody has booked by a set time before it begins is left
over for others (`share_and_leftover_turns`). A turn lost through equipment does not count as had, so that the squad may
book another one; who lost turns as days were closed chooses first (`lost_closed_or_cancelled_turns`).
"""

from datetime import datetime, timedelta
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.first_round_draw import why_wait
from bot.rules.practice.lost_closed_or_cancelled_turns import why_lost_first
from bot.rules.practice.practice_table import PracticeTable, has_begun
from bot.rules.practice.share_and_leftover_turns import has_used_share, why_not_left_over
from storage.records.tryout import State


def check_begun(state: State, brief: datetime) -> None:
    """There may be turns to see from the brief on. Raises Refusal `practice_not_yet` (brief: seconds)."""
    if not has_begun(state):
        raise Refusal(Reason.PRACTICE_NOT_YET, brief=int(brief.timestamp()))


def is_running(state: State) -> bool:
    """Whether turns are booked, given back and reminded of: as long as the window is."""
    return state == "window"


def check_running(state: State, brief: datetime) -> None:
    """Turns can be booked and given back during the window. Raises Refusal as `check_begun`; `practice_over`."""
    check_begun(state, brief)
    if not is_running(state):
        raise Refusal(Reason.PRACTICE_OVER)


def bookable(table: PracticeTable, squad: int, now: datetime) -> list[datetime]:
    """The free turns that a squad may book now."""
    return [begin for begin in table.free(now) if _why_not(table, squad, begin, now) is None]


def to_book(table: PracticeTable, squad: int, now: datetime) -> list[datetime]:
    """The same, to pick from. Raises Refusal `no_turns_yet` (opens: seconds) or `no_turns_free` where there is none."""
    offered = bookable(table, squad, now)
    if not offered:
        opens = opens_again(table, squad, now)
        if opens is not None:
            raise Refusal(Reason.NO_TURNS_YET, opens=int(opens.timestamp()))
        raise Refusal(Reason.NO_TURNS_FREE)
    return offered


def opens_again(table: PracticeTable, squad: int, now: datetime) -> datetime | None:
    """When a squad that can book nothing now may book one of the free turns, if nobody else takes it; else None."""
    moments = []
    for begin in table.free(now):
        refusal, at = _why_not(table, squad, begin, now), now
        while refusal is not None and at < begin:
            # A refusal names whole seconds; what opens within one is open with the next.
            named = datetime.fromtimestamp(int(str(refusal.fields["opens"])), begin.tzinfo)
            at = named if named > at else at + timedelta(seconds=1)
            refusal = _why_not(table, squad, begin, at)
        if refusal is None and at < begin:
            moments.append(at)
    first = min(moments, default=None)
    return None if first is None or first <= now else first


def next_change(table: PracticeTable, squad: int, now: datetime) -> tuple[Literal["opens", "shuts"], datetime] | None:
    """When what a squad can book beside its share changes: it opens, or the last turn that is left over is gone."""
    turns = bookable(table, squad, now)
    if not turns:
        opens = opens_again(table, squad, now)
        return None if opens is None else ("opens", opens)
    return ("shuts", max(turns)) if has_used_share(table, squad) else None


def may_book(table: PracticeTable, squad: int, now: datetime) -> datetime | bool:
    """Whether a squad can book a turn at this moment, or from when."""
    return bool(bookable(table, squad, now)) or opens_again(table, squad, now) or False


def check_book(table: PracticeTable, squad: int, begin: datetime, now: datetime) -> None:
    """Whether a squad may book a turn now.

    Raises:
        Refusal: as `check_free`; `turn_yours`; as `why_lost_first`, `why_wait` or `why_not_left_over`.
    """
    turn = table.by_begin.get(begin)
    if turn is not None and turn.state == "held" and turn.squad_id == squad:
        raise Refusal(Reason.TURN_YOURS)
    table.check_free(begin, now)
    refusal = _why_not(table, squad, begin, now)
    if refusal is not None:
        raise refusal


def check_give_back(table: PracticeTable, squad: int, begin: datetime, now: datetime) -> None:
    """Whether a squad may give a turn back now. Raises Refusal `turn_not_yours`, `turn_too_close` (hours)."""
    turn = table.by_begin.get(begin)
    if turn is None or turn.squad_id != squad or turn.state != "held":
        raise Refusal(Reason.TURN_NOT_YOURS)
    if now >= last_give_back(table, begin):
        raise Refusal(Reason.TURN_TOO_CLOSE, hours=table.practice.give_back_hours)


def last_give_back(table: PracticeTable, begin: datetime) -> datetime:
    """Until when a turn may be given back."""
    return begin - timedelta(hours=table.practice.give_back_hours)


def returnable(table: PracticeTable, squad: int, now: datetime) -> list[datetime]:
    """The turns that a squad may give back now."""
    return [begin for begin in table.held(squad) if now < last_give_back(table, begin)]


def to_give_back(table: PracticeTable, squad: int, now: datetime) -> list[datetime]:
    """The same, to pick from. Raises Refusal `no_turns_mine` where there is none."""
    found = returnable(table, squad, now)
    if not found:
        raise Refusal(Reason.NO_TURNS_MINE)
    return found


def _why_not(table: PracticeTable, squad: int, begin: datetime, now: datetime) -> Refusal | None:
    first = why_lost_first(table, squad, now)
    if first is not None:
        return first
    had = len(table.held(squad))
    waits = why_wait(table.lot, squad, had, now) if table.lot is not None else None
    if waits is not None:
        return waits
    return why_not_left_over(table, squad, begin, now) if has_used_share(table, squad) else None
