"""From when on the brief can be read, and at which page it counts as read."""

from datetime import UTC, datetime

import pytest

from bot.rules.calendar.brief import check_out, is_read
from bot.rules.core.refusal import Refusal

PLANNED = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


def test_the_brief_is_read_once_it_is_out_and_has_been_at_its_last_page() -> None:
    check_out(PLANNED, PLANNED)
    with pytest.raises(Refusal, match="brief_not_out"):
        check_out(None, PLANNED)
    assert [is_read(page, 3) for page in range(4)] == [False, False, True, True]
