"""When one can come late."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import latecomers
from storage.records.tryout import State


@pytest.mark.parametrize(
    ("state", "signup_open", "reason"),
    [
        ("signup", True, Reason.LATE_TOO_EARLY),
        ("drafting", False, Reason.SIGNUP_NOT_OPEN),
        ("settled", False, Reason.LATE_OVER),
    ],
)
def test_nobody_is_late_before_sign_up_has_closed_or_after_judging(
    state: State, signup_open: bool, reason: Reason
) -> None:
    with pytest.raises(Refusal) as refused:
        latecomers.check_late(state, signup_open)
    assert refused.value.reason == reason


def test_one_can_come_late_while_judging_goes_on() -> None:
    latecomers.check_late("judging", signup_open=False)
