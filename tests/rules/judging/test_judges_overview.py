"""Which judges are named who owe sheets, and in which order."""

from bot.rules.judging.judges_overview import judges_who_owe, owed_by
from tests.words.judging.longest_sheets import JUDGES, MANY


def test_judges_who_owe_something_stand_by_their_numbers_and_the_others_not_at_all() -> None:
    first = [one for one in MANY if one.sheet.judge_id != JUDGES[1].id]
    found = judges_who_owe(list(reversed(JUDGES[:3])), first)
    assert [judge.number for judge, _ in found] == [JUDGES[0].number, JUDGES[2].number]
    assert all(sheets == owed_by(judge, first) for judge, sheets in found)
