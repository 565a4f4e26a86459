"""Who is told at the close of sign-up, and when it has ended with the brief."""

from bot.rules.calendar.signup_closes import ends_with_brief, members_missing
from bot.rules.calendar.squad_debts import Debt
from tests.rules.calendar.test_release_brief import NOW


def test_a_squad_is_told_how_many_members_it_lacks_and_nothing_else_that_it_owes() -> None:
    assert members_missing([Debt("brief", 3), Debt("members", 2)]) == 2 and members_missing([Debt("slot", 1)]) == 0


def test_sign_up_ends_with_the_brief_where_it_ran_and_nothing_of_it_is_to_come() -> None:
    assert ends_with_brief(True, [], NOW) and not ends_with_brief(False, [], NOW)
