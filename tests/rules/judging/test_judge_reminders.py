"""Of which sheets judges are reminded."""

from dataclasses import replace

from bot.rules.judging.judge_reminders import to_remind_of
from bot.rules.judging.judges_overview import owed_by
from tests.words.judging.longest_sheets import JUDGES, MANY


def test_judges_are_reminded_of_what_they_can_mark_now_and_not_of_what_just_came() -> None:
    owed = [replace(one, changeable=True) for one in owed_by(JUDGES[0], MANY)]
    assert to_remind_of(owed) == owed
    assert to_remind_of([replace(one, changeable=False) for one in owed]) == []
    assert to_remind_of(owed, {one.event.key for one in owed}) == []
