"""The coach sees the whole plan, with the surprise."""

from datetime import datetime

from bot.rules.calendar.calendar import schedule
from bot.words.plan import edit_plan
from bot.words.plan.builtin_plan import builtin_plan

BUILT_IN = builtin_plan(datetime(2027, 1, 11, 15, 30), "America/New_York")  # noqa: DTZ001


def test_the_coach_sees_the_surprise_and_that_it_is_one() -> None:
    found = "\n".join(edit_plan.shown(BUILT_IN, schedule(BUILT_IN), page).text for page in range(12))
    assert "Paper chain** (30 % of the total; a surprise: students see none of this yet)" in found
    assert "glue sticks" in found
