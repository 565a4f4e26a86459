"""Protests: two coaches, never one; and what makes a result final (common practice, no source)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.results.protests import (
    check_second_coach,
    check_time,
    in_order,
    makes_final,
    protest_ends,
    to_pick,
)
from storage.records.results import Protest
from tests.rules.books import NOW, count, event, plan

ONE, OTHER = 1, 2
PLAN = plan(event("run", count("m")))


def protest(verdict: str | None = None) -> Protest:
    """A protest, perhaps with what one coach has proposed."""
    by = None if verdict is None else ONE
    known = {"id": 1, "tryout_id": 1, "squad_id": 1, "filed_at": NOW, "text": "Twice"}
    return Protest.model_validate(known | {"verdict": verdict, "decided_by": by})


def test_what_one_coach_decided_stands_only_when_another_agrees() -> None:
    check_second_coach(protest("upheld"), OTHER)
    with pytest.raises(Refusal, match="protest_second"):
        check_second_coach(protest("upheld"), ONE)
    with pytest.raises(Refusal, match="protest_no_verdict"):
        check_second_coach(protest(), OTHER)


def test_the_last_rejected_protest_makes_a_result_final_once_the_days_are_over() -> None:
    end = protest_ends(PLAN, NOW)
    assert makes_final(protest("rejected"), 0, PLAN, NOW, end)
    assert not makes_final(protest("rejected"), 1, PLAN, NOW, end)
    assert not makes_final(protest("upheld"), 0, PLAN, NOW, end)
    assert not makes_final(protest("rejected"), 0, PLAN, NOW, NOW)
    assert not makes_final(protest("rejected"), 0, PLAN, None, end)


def test_the_register_is_oldest_first_and_the_newest_can_be_picked() -> None:
    found = [protest().model_copy(update={"id": number}) for number in range(27, 0, -1)]
    assert [one.id for one in in_order(found)] == list(range(1, 28))
    assert [one.id for one in to_pick(found, 25)] == list(range(3, 28))


def test_protests_are_taken_while_a_result_is_announced_until_the_days_are_over() -> None:
    check_time(PLAN, "announced", NOW, NOW, "")
    for state, announced_at, now, why in (
        ("settled", NOW, NOW, "protest_early"),
        ("announced", None, NOW, "protest_early"),
        ("announced", NOW, protest_ends(PLAN, NOW), "protest_over"),
    ):
        with pytest.raises(Refusal, match=why):
            check_time(PLAN, state, announced_at, now, "")  # type: ignore[arg-type]
