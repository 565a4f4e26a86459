"""Every kind of event that can be typed has numbers to begin with."""

from bot.rules.plan.new_event_defaults import LESS_IS_BETTER, MORE_IS_BETTER, WEIGHTS, of_measure
from bot.rules.plan.new_set_of_events import KINDS


def test_every_kind_has_a_weight_and_a_measure() -> None:
    assert set(KINDS.values()) == WEIGHTS.keys() == MORE_IS_BETTER.keys() >= LESS_IS_BETTER.keys()


def test_full_points_stand_at_the_better_end() -> None:
    for kind in LESS_IS_BETTER:
        less = of_measure(kind, True)
        assert int(less["full"]) < int(less["floor"])
    more = of_measure("number", False)
    assert int(more["full"]) > int(more["floor"])
