"""The worked example gives what the scales give."""

from fractions import Fraction

from bot.rules.plan.read_plan import read_plan
from bot.rules.scoring.scales import Roots, scaled
from bot.words.plan.builtin_plan import builtin_plan_text
from bot.words.plan.worked_example import worked_example


def test_the_example_gives_what_the_scales_give() -> None:
    built_in = read_plan(builtin_plan_text())
    (socks,) = built_in.events[0].measures
    assert scaled(socks, {1: Fraction(70)}, Roots())[1] * 100 == 70
    assert worked_example(built_in).splitlines()[1:] == [
        "• Socks in the basket: 7 socks x 10 = 70 points gives 70 of 100.",
        "Sock run counts 40 of 100: 70 x 40 / 100 = 28 points of the total.",
    ]
