"""A sheet, or all of judging, is opened again after the close: which, until when, by whom, with how long a reason."""

from collections.abc import Collection
from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.second_coach import COOLING, may_break
from bot.rules.judging.my_sheets import Entry
from storage.records.judging import ReopeningRequest
from storage.records.people import Judge
from storage.records.tryout import State

SHORTEST_REASON, LONGEST_REASON = 5, 200
"""Characters of why a sheet is opened again."""


def read_reason(typed: str) -> str:
    """Why a sheet, or all of judging, is opened again. Raises Refusal: `no_reason`."""
    reason = " ".join(typed.split())
    if len(reason) < SHORTEST_REASON:
        raise Refusal(Reason.NO_REASON)
    return reason


def check_agreed(asked_at: datetime, by_another: bool, now: datetime) -> None:
    """It is opened again once a second coach agrees, or the one who asked has waited. Raises `reopening_waits` (at)."""
    if not may_break(asked_at, by_another, now):
        raise Refusal(Reason.REOPENING_WAITS, at=int(alone_from(asked_at).timestamp()))


def check_may_reopen_sheet(state: State, result_stands: bool) -> None:
    """One sheet can be opened again once judging is closed, until the result is announced.

    Raises:
        Refusal: `judging_over`, `judging_open`.
    """
    if result_stands:
        raise Refusal(Reason.JUDGING_OVER)
    if state != "settled":
        raise Refusal(Reason.JUDGING_OPEN)


def check_may_resume(state: State, result_stands: bool) -> None:
    """All of judging can be opened again in the same time.

    Raises:
        Refusal: `judging_over`, `judging_runs`.
    """
    if state != "settled":
        raise Refusal(Reason.JUDGING_OVER if result_stands else Reason.JUDGING_RUNS)


def can_be_reopened(entry: Entry, let_go: Collection[int]) -> bool:
    """Whether a sheet can be opened again, or has been: handed in, or `let_go` (ids) when judging was closed."""
    return entry.done or entry.again or entry.sheet.id in let_go


def is_offered(state: State) -> bool:
    """Whether a coach who looks at a judge can open single sheets again: once judging is closed."""
    return state == "settled"


def stays_open(result_stands: bool) -> bool:
    """Whether a sheet that was opened again can be marked: until the result is announced."""
    return not result_stands


def alone_from(asked_at: datetime) -> datetime:
    """From when on the coach who asked needs no second one."""
    return asked_at + COOLING


def check_waits(asked: ReopeningRequest | None) -> ReopeningRequest:
    """A request can be agreed to once, and not after the close or the announcement. Raises Refusal `out_of_date`."""
    if asked is None or asked.agreed_at is not None or asked.shut_at is not None:
        raise Refusal(Reason.OUT_OF_DATE)
    return asked


def check_is_closed(entry: Entry) -> None:
    """A sheet that is open again is not opened once more. Raises Refusal `sheet_open_again`."""
    if entry.again:
        raise Refusal(Reason.SHEET_OPEN_AGAIN)


def check_is_open(entry: Entry) -> None:
    """Only a sheet that is open again is closed. Raises Refusal `sheet_shut`."""
    if not entry.again:
        raise Refusal(Reason.SHEET_SHUT)


def is_told(judge: Judge) -> bool:
    """Whether a judge is told that a sheet is open again, or closed: one who has agreed to judge."""
    return judge.opted_in_at is not None
