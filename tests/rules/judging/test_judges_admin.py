"""Until when judges are enrolled, let go, counted or only shown."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.judges_admin import check_may_change


def test_whose_marks_count_is_settled_once_totals_can_be_read() -> None:
    check_may_change(totals_hidden=True, result_stands=False)
    for hidden, stands, reason in ((False, False, "judges_fixed"), (False, True, "judging_over")):
        with pytest.raises(Refusal, match=reason):
            check_may_change(hidden, stands)
