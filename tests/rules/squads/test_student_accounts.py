"""Which student and which account may be linked."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads import student_accounts as rules
from storage.records.people import Student


def student(account: int | None, squad_id: int | None = None) -> Student:
    return Student(id=1, tryout_id=1, platform_id=account, name="Ada", section="7-A", squad_id=squad_id, joined_at=None)


def test_a_student_has_one_account_and_an_account_is_one_student() -> None:
    rules.check_may_link(student(None), None)
    with pytest.raises(Refusal, match="has_account"):
        rules.check_may_link(student(5), None)
    with pytest.raises(Refusal, match="account_in_use"):
        rules.check_may_link(student(None), student(5))
    with pytest.raises(Refusal, match="no_account"):
        rules.check_has_account(student(None))


def test_a_code_that_fits_nobody_is_no_mistake_of_somebody_who_has_a_squad() -> None:
    assert rules.check_linked_before(student(5, 2)) == student(5, 2)
    for one in (None, student(5)):
        with pytest.raises(Refusal, match="no_such_link"):
            rules.check_linked_before(one)
