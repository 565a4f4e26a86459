"""Which judges are named who owe sheets, and in which order; of which sheets they are reminded."""

from dataclasses import replace

from bot.rules.judging.judge_reminders import to_remind_of
from bot.rules.judging.who_owes_sheets import in_order, owed_by
from tests.words.judging.longest_sheets import JUDGES, MANY


def test_judges_who_owe_something_stand_by_their_numbers_and_the_others_not_at_all() -> None:
    first = [one for one in MANY if one.sheet.judge_id != JUDGES[1].id]
    found = in_order(list(reversed(JUDGES[:3])), first)
    assert [judge.number for judge, _ in found] == [JUDGES[0].number, JUDGES[2].number]
    assert all(sheets == owed_by(judge, first) for judge, sheets in found)


def test_judges_are_reminded_of_what_they_can_mark_now_and_not_of_what_just_came() -> None:
    owed = [replace(one, changeable=True) for one in owed_by(JUDGES[0], MANY)]
    assert to_remind_of(owed) == owed
    assert to_remind_of([replace(one, changeable=False) for one in owed]) == []
    assert to_remind_of(owed, {one.event.key for one in owed}) == []
