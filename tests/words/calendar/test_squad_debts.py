"""What a squad still owes, as it reads it: its lines and its buttons, each in their own order."""

from bot.rules.calendar.squad_debts import Debt
from bot.words.calendar.squad_debts import debt_buttons, debt_lines
from tests.words.invented import squad

OWED = (Debt("hand-in", 1, "Bunting"), Debt("slot", 1), Debt("members", 2), Debt("brief", 1))


def test_the_most_pressing_line_comes_first_in_whatever_order_it_was_found() -> None:
    lines = debt_lines(squad(1, "Moles"), OWED, may_change=False, rings=False)
    assert [line.split(":")[0][:26] for line in lines[:1]] == ["Your squad needs 2 more me"]
    assert "read the brief" in lines[1] and "practice turn" in lines[2] and "add your part" in lines[3]


def test_buttons_stand_in_their_own_order_as_far_as_a_press_can_do_it() -> None:
    assert [one.label for one in debt_buttons(OWED)] == ["Open the brief", "Add my part", "Book a turn"]
    assert debt_buttons(OWED[2:3]) == ()
