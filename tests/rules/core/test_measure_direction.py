"""Which way a measure goes."""

from bot.rules.core.measure_direction import lower_is_better
from tests.rules.scoring.test_measures import BRIDGE, GAP, MASS, MISTAKES


def test_only_times_and_what_the_plan_says_are_better_when_lower() -> None:
    assert [lower_is_better(one) for one in (MISTAKES, MASS, GAP, BRIDGE)] == [True, False, True, False]
