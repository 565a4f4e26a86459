"""Judges are asked: who can be asked once more, and how often the coach is told that one declines."""

from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Judge


def is_told(before: datetime | None, now: datetime) -> bool:
    """Whether the coach is told that a judge declines: once on a day (UTC); `before` is when that was last."""
    return before is None or before.date() != now.date()


def may_be_asked_again(judge: Judge) -> bool:
    """Whether a judge can be asked once more: one who has not agreed yet."""
    return judge.opted_in_at is None


def check_may_ask_again(judge: Judge) -> None:
    """Only who has not agreed yet is asked once more. Raises Refusal `judge_is_ready` (judge)."""
    if not may_be_asked_again(judge):
        raise Refusal(Reason.JUDGE_IS_READY, judge=judge.name)
