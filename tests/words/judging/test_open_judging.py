"""A judge reads how many sheets are new, and how many there are in all."""

from bot.rules.calendar.calendar import schedule
from bot.words.judging import (
    open_judging,
)
from tests.words.judging.longest_sheets import EVENTS, MINE, PLAN


def test_a_judge_reads_how_many_sheets_are_new_and_how_many_there_are_in_all() -> None:
    closes = schedule(PLAN).judging_closes
    told = open_judging.sheets_out(MINE, [EVENTS[1].name], closes)
    assert "You have 20 new sheets, 160 in all." in told.text
    buttons = [one for row in told.rows if isinstance(row, tuple) for one in row]
    assert [one.label[-14:-11] for one in buttons[:2]] == ["1zz", "1zz"]
    first = [one for one in MINE if one.event == EVENTS[0]]
    assert "You have 20 sheets." in open_judging.sheets_out(first, [EVENTS[0].name], closes).text
