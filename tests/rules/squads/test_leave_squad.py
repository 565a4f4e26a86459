"""Until when somebody may leave a squad, who leads it then, and when it is closed."""

from datetime import timedelta

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads import leave_squad as rules
from tests.rules.squads.test_captain import BEGAN, member, squad


def test_who_helps_may_leave_after_sign_up_has_closed_and_nobody_else() -> None:
    later = BEGAN + timedelta(days=1)
    rules.check_may_leave(False, "signup", later, BEGAN)
    rules.check_may_leave(True, "judging", BEGAN, later)
    with pytest.raises(Refusal, match="signup_closed"):
        rules.check_may_leave(False, "window", BEGAN, later)
    assert rules.coaches_read_it(signup_open=False) and not rules.coaches_read_it(signup_open=True)


def test_another_captain_is_named_only_where_there_is_one() -> None:
    captain, first = member(1, 1), member(2, 2)
    assert rules.leads_then(squad(1), captain, [captain, first]) == first
    assert rules.leads_then(squad(1), first, [captain, first]) is None
    assert rules.leads_then(squad(1), captain, [captain]) is None


def test_an_empty_squad_is_closed_but_not_once_the_result_is_announced() -> None:
    assert rules.goes_when_empty(result_stands=False) and not rules.goes_when_empty(result_stands=True)
