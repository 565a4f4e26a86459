"""Which roles hold which."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.roles import roles_of, why_refused, would_hold


def test_a_coach_may_do_what_those_at_the_table_may_and_a_manager_what_a_coach_may() -> None:
    assert roles_of((), False) == {"anyone"}
    assert roles_of(("scorekeeper",), False) == {"anyone", "scorekeeper", "recorder"}
    assert roles_of(("typist",), False) == {"anyone", "typist", "recorder"}
    assert roles_of(("coach",), False) == {"anyone", "coach", "scorekeeper", "typist", "recorder"}
    assert roles_of((), True) == {"anyone", "manager", "coach", "scorekeeper", "typist", "recorder"}
    assert roles_of(("judge",), False) == {"anyone", "judge"}


def test_whoever_takes_part_holds_no_other_role_and_would_without_the_seat() -> None:
    assert roles_of(("competitor", "judge", "coach"), True) == {"anyone"}
    assert would_hold("judge", ("competitor", "judge"), False)
    assert not would_hold("coach", ("competitor", "judge"), False)
    assert not would_hold("judge", ("judge",), False)


def test_whoever_lacks_a_role_is_told_why() -> None:
    assert why_refused("judge", competes=True, found=True) == Reason.COMPETES
    assert why_refused("judge", competes=False, found=True) == Reason.ONLY_JUDGE
    assert why_refused("judge", competes=False, found=False) == Reason.NO_TRYOUT
    assert why_refused("manager", competes=False, found=False) == Reason.ONLY_MANAGER
