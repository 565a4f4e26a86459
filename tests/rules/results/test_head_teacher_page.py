"""What is counted for the head teacher."""

from bot.rules.results.head_teacher_page import numbers
from tests.rules.books import sheet, squads
from tests.rules.results.test_announce import OFF, ON


def test_students_are_counted_in_squads_and_sheets_that_are_handed_in() -> None:
    found = numbers(
        rows=[(squads(1)[0], [OFF, ON]), (None, [OFF])],
        judges=2,
        sheets=[sheet(1, 1, "art.patch", (1, 1)), sheet(1, 2, "art.patch", None, state="open")],
        attempts=3,
        absences=0,
        decisions=[],
        protests=[],
        incidents=1,
    )
    assert (found.squads, found.students, found.without_account, found.without_squad) == (1, 2, 1, 1)
    assert (found.sheets, found.attempts, found.plan_changes, found.exceptions, found.upheld) == (1, 3, 0, 0, 0)
