"""The buttons with which a squad does what it owes."""

from bot.rules.calendar.squad_debts import Debt
from bot.words.calendar.squad_debts import debt_buttons

OWED = (Debt("hand-in", 1, "Bunting"), Debt("slot", 1), Debt("members", 2), Debt("brief", 1))


def test_buttons_stand_in_their_own_order_as_far_as_a_press_can_do_it() -> None:
    assert [one.label for one in debt_buttons(OWED)] == ["Open the brief", "Add my part", "Book a turn"]
    assert debt_buttons(OWED[2:3]) == ()
