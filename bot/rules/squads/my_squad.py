"""My squad, the student's own page: what is shown on it and when, and what somebody without a squad reads instead."""

from collections.abc import Collection, Iterable
from datetime import datetime
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.latecomers import why_not_late
from storage.records.event_day import DaySlot
from storage.records.people import Squad, Student
from storage.records.results import MemberOffer
from storage.records.tryout import State


def leads_to_own_pages(held: Collection[str]) -> bool:
    """Whether somebody reads the way to what helpers, judges and coaches do instead of a squad's page."""
    return set(held) != {"anyone"}


def comes_next(state: State) -> Literal["result", "read-result", ""]:
    """Once everything is handed in: that the result comes, or, when it is announced, where it is to be read."""
    if state == "announced":
        return "read-result"
    return "result" if state in ("judging", "settled") else ""


def due_is_shown(state: State, now: datetime, deadline: datetime) -> bool:
    """Whether the page shows the deadline and what is still missing: in the window, until the common deadline."""
    return state == "window" and now < deadline


def has_to_read(one: Student) -> bool:
    """Whether a member still has to read the brief: who has an account and has not opened it."""
    return one.platform_id is not None and one.brief_opened_at is None


def parts_can_be_seen(state: State, pieces: int) -> bool:
    """Whether a button leads to the squad's parts: where something is handed in, until the try-out is put away."""
    return pieces > 0 and state != "archived"


def to_come(moments: Iterable[datetime], now: datetime) -> tuple[datetime, ...]:
    """The turns, or times of the event day, that are shown: those that have not begun."""
    return tuple(one for one in moments if one > now)


def day_times(slots: Iterable[DaySlot], squad_id: int, told_at: datetime | None, now: datetime) -> tuple[datetime, ...]:
    """When a squad is due on the event day, from now on; nothing before squads were told their times."""
    if told_at is None:
        return ()
    return to_come((slot.begins_at for slot in slots if slot.squad_id == squad_id and slot.closed_at is None), now)


def place_is_shown(state: State, offer: MemberOffer | None) -> bool:
    """Whether a button leads to the place in the team: offered to this member, not kept for one who steps in."""
    return state == "announced" and offer is not None and offer.state != "alternate"


def why_no_squad(me: Student | None, taken_out: Squad | None, state: State, signup_open: bool) -> Refusal:
    """What somebody without a squad reads; `taken_out` is the squad of theirs that the coach took out.

    While sign-up is open `not_in_squad`, before `signup_not_open`, at the end `late_over`; between, where the coach can
    still help, `not_in_squad_late`, or `not_in_squad_known` once told; `squad_taken_out` or `squad_taken_out_open`
    (squad) until they look for another one.
    """
    if taken_out is not None and me is not None and not me.looking:
        return Refusal(Reason.SQUAD_TAKEN_OUT_OPEN if signup_open else Reason.SQUAD_TAKEN_OUT, squad=taken_out.name)
    if signup_open:
        return Refusal(Reason.NOT_IN_SQUAD)
    refusal = why_not_late(state)
    if refusal is not None:
        return refusal
    known = me is not None and (me.late_at is not None or me.looking)
    return Refusal(Reason.NOT_IN_SQUAD_KNOWN if known else Reason.NOT_IN_SQUAD_LATE)
