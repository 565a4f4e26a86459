"""Until when one squad can be given more time for the hand-in."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.hand_in.more_time import MOST_EXTENSION, check_until

DEADLINE = datetime(2027, 1, 21, 20, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


@pytest.mark.parametrize("until", [DEADLINE + MINUTE, DEADLINE + MOST_EXTENSION])
def test_more_time_ends_after_the_deadline_and_thirty_days_later_at_most(until: datetime) -> None:
    assert check_until(until, DEADLINE, DEADLINE - MINUTE) == until


@pytest.mark.parametrize(
    ("until", "now"),
    [
        (None, DEADLINE),
        (DEADLINE, DEADLINE - MINUTE),
        (DEADLINE + MINUTE, DEADLINE + MINUTE),
        (DEADLINE + MOST_EXTENSION + MINUTE, DEADLINE),
    ],
)
def test_other_ends_are_refused_with_the_deadline(until: datetime | None, now: datetime) -> None:
    with pytest.raises(Refusal) as refused:
        check_until(until, DEADLINE, now)
    assert refused.value.fields == {"deadline": int(DEADLINE.timestamp())}
