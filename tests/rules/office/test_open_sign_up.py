"""When sign-up opens."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.office.open_sign_up import check_may_open


def test_sign_up_opens_once_while_students_see_nothing_yet() -> None:
    check_may_open("drafting")
    with pytest.raises(Refusal):
        check_may_open("signup")
