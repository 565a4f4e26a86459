"""From when turns that are left over are open to which squads."""

from datetime import timedelta

from bot.rules.practice.leftover_turns import HEAD_START, pool_opens
from tests.rules.practice.test_booking import why_not
from tests.rules.practice.test_practice_table import DAY, START, table, turn


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
