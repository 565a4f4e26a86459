"""How many turns are each squad's share, and from when turns that are left over are open to which squads."""

from datetime import timedelta

import pytest

from bot.rules.practice.share_and_leftover_turns import HEAD_START, pool_opens, share_left, share_of_each
from tests.rules.practice.test_booking import why_not
from tests.rules.practice.test_practice_table import DAY, EARLY, START, table, turn
from tests.rules.reference import reference


@pytest.mark.parametrize(("number", "squads", "share"), [(20, 8, 2), (19, 14, 1), (16, 8, 2), (5, 8, 1), (0, 8, 1)])
def test_the_share_is_the_same_whole_number_for_all(number: int, squads: int, share: int) -> None:
    assert share_of_each(table(number, squads)) == share


def test_the_share_is_the_surest_part_of_the_largest_remainder() -> None:
    # E1d: seven equal squads and 16 turns; the two left over are a tie, which here the pool decides.
    example = reference("E1d")
    sizes, claims = example["expected"]["largest_remainder_sizes"], example["input"]["claims"]
    found = table(example["input"]["seats"], len(claims))
    assert share_of_each(found) == min(sizes)
    assert len(found.slots) - share_of_each(found) * len(claims) == sum(size - min(sizes) for size in sizes)


def test_the_plan_may_name_the_share_and_blocked_turns_are_not_shared_out() -> None:
    assert share_of_each(table(20, 8, turns=3)) == 3
    assert share_of_each(table(16, 8, turn(START, None, "blocked"))) == 1


def test_what_is_left_is_never_more_than_what_is_free() -> None:
    assert share_left(table(4, 2), 1, EARLY) == 2
    assert share_left(table(4, 2), 1, START + 2 * DAY) == 1
    assert share_left(table(4, 2), 1, START + 9 * DAY) == 0


def test_who_has_used_the_share_waits_for_the_pool_and_there_for_those_with_fewer() -> None:
    found = table(20, 8, turn(START, 1), turn(START + DAY, 1))
    free = START + 5 * DAY
    assert why_not(found, 1, free) == "turns_used"
    opens = pool_opens(found, free)
    assert why_not(found, 1, free, opens - timedelta(seconds=1)) == "turns_used"
    assert why_not(found, 1, free, opens) == "pool_first"
    assert why_not(found, 2, free, opens) == ""
    assert why_not(found, 1, free, opens + HEAD_START) == ""


def test_when_all_have_as_many_the_pool_is_open_to_all_at_once() -> None:
    found = table(5, 2, *(turn(START + n * DAY, 1 + n % 2) for n in range(4)))
    free = START + 4 * DAY
    assert why_not(found, 1, free, pool_opens(found, free)) == ""
