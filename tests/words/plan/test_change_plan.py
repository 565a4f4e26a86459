"""The longest change of a plan is cut to fit."""

from datetime import datetime

from bot.rules.calendar.calendar import schedule
from bot.words.plan import change_plan
from bot.words.plan.builtin_plan import builtin_plan
from bot.words.plan.public_plan import public_plan
from storage.records.message import MESSAGE_LENGTH
from tests.actions.conftest import small_plan

BUILT_IN = builtin_plan(datetime(2027, 1, 11, 15, 30), "America/New_York")  # noqa: DTZ001
LONGEST = small_plan(
    name="N" * 100,
    brief="B" * 1800,
    sections=tuple(f"{number:02} {'S' * 27}" for number in range(25)),
)


def test_the_longest_change_is_cut_to_fit() -> None:
    said = change_plan.changed(LONGEST, schedule(LONGEST), ["x" * 300] * 12, True, "why", public_plan(BUILT_IN))
    assert len(said.text) <= MESSAGE_LENGTH
