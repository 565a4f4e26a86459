"""When a result may be announced, and who gets it on paper (common practice, no source)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.results.announce import check_ready, on_paper
from storage.records.people import Student
from tests.rules.books import squads

OFF, ON = (
    Student(id=n, tryout_id=1, platform_id=account, name=f"S{n}", section="7A") for n, account in ((1, None), (2, 9))
)


def test_a_result_is_announced_after_the_close_by_a_coach_who_owes_no_sheet() -> None:
    check_ready("settled", ())
    for state, owed in (("judging", ()), ("settled", (3,))):
        with pytest.raises(Refusal, match="not_ready_to_announce"):
            check_ready(state, owed)  # type: ignore[arg-type]


def test_squads_in_which_nobody_has_an_account_get_their_result_on_paper() -> None:
    one, two, empty = squads(3)
    assert on_paper([(one, [OFF]), (two, [OFF, ON]), (empty, []), (None, [OFF])]) == [one]
