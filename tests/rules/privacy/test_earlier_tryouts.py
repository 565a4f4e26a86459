"""Which earlier try-outs are listed, and which can be erased."""

from datetime import UTC, datetime

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.privacy.earlier_tryouts import in_order, to_erase
from storage.records.tryout import Tryout
from tests.actions.conftest import small_plan

DAY = datetime(2027, 4, 1, tzinfo=UTC)


def earlier(number: int) -> tuple[Tryout, datetime]:
    return Tryout(id=number, server_id=1, plan=small_plan(), state="archived", created_at=DAY), DAY


def test_they_are_listed_as_they_began_and_one_that_holds_no_names_any_more_is_not_erased() -> None:
    found = [earlier(2), earlier(1)]
    assert [one.id for one, _ in in_order(found)] == [1, 2]
    assert to_erase(found, 2).id == 2
    with pytest.raises(Refusal, match="earlier_gone"):
        to_erase(found, 3)
