"""Judges are enrolled, let go, and counted or only shown: how many at once, and until when."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Judge
from storage.records.request import Person

MOST_AT_ONCE = 10
"""So many people are picked at most when judges are added."""


def check_may_change(totals_hidden: bool, result_stands: bool) -> None:
    """Who judges, and whose marks count, is settled before anybody can read totals.

    Raises Refusal: `judging_over`, `judges_fixed`.
    """
    if result_stands:
        raise Refusal(Reason.JUDGING_OVER)
    if not totals_hidden:
        raise Refusal(Reason.JUDGES_FIXED)


def check_is_person(person: Person) -> None:
    """No program judges. Raises Refusal `judge_is_program`."""
    if person.program:
        raise Refusal(Reason.JUDGE_IS_PROGRAM)


def weight_of(counts: bool) -> str:
    """What a judge's marks count for: as those of any other, or nothing, when they are only shown."""
    return "1" if counts else "0"


def asked_in_news(new: Sequence[Judge]) -> list[Judge]:
    """Of judges who were added, those who are asked: who comes back and has agreed before is not asked again."""
    return [judge for judge in new if judge.opted_in_at is None]


def number_of(known: Judge | None, last: int) -> int:
    """The number of who is enrolled: the old one of who was a judge here before (`known`), else the next.

    With the old number come the marks made then. `last` is the highest that one has or had, so that nobody gets
    another's.
    """
    return last + 1 if known is None else known.number
