"""Who leads a squad that is founded, and when somebody leaves it."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads.captain import check_captain, check_others, first_captain, leads_on_arrival, next_captain
from storage.records.people import Squad, Student

BEGAN = datetime(2027, 1, 4, 12, tzinfo=UTC)


def member(number: int, hours: int) -> Student:
    joined = BEGAN + timedelta(hours=hours)
    return Student(
        id=number, tryout_id=1, platform_id=None, name=f"Ada {number}", section="7-A", squad_id=1, joined_at=joined
    )


def squad(captain: int | None) -> Squad:
    return Squad(
        id=1, tryout_id=1, number=1, name="M_M", section="7-A", captain_id=captain, join_code="ABC", created_at=BEGAN
    )


def test_the_captain_stays_else_whoever_joined_first_follows_in_whatever_order_members_come() -> None:
    late, first, second = member(1, 9), member(2, 1), member(3, 2)
    assert next_captain(squad(1), [first, second, late]) == late
    assert next_captain(squad(7), [late, second, first]) == first
    assert next_captain(squad(None), [late, second, member(4, 2)]) == second
    assert next_captain(squad(7), []) is None


def test_out_of_a_proposal_the_first_who_has_an_account_leads_else_the_first() -> None:
    without, first, second = member(1, 1), *(member(n, n).model_copy(update={"platform_id": n}) for n in (2, 3))
    assert first_captain([without, first, second]) == first
    assert first_captain([without]) == without


def test_whoever_comes_leads_a_squad_that_nobody_leads_and_no_other() -> None:
    assert leads_on_arrival(squad(None)) and not leads_on_arrival(squad(7))


def test_only_a_captain_hands_over_and_only_to_somebody() -> None:
    check_captain(member(1, 9), squad(1))
    check_others([member(2, 1)])
    with pytest.raises(Refusal):
        check_captain(member(2, 1), squad(1))
    with pytest.raises(Refusal):
        check_others([])
