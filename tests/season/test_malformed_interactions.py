"""A thousand malformed events for the real bot: everybody is answered, nothing is a fault of ours, nobody is quoted."""

from pathlib import Path

import pytest

from tests.season.malformed_interactions import send_mutated

pytestmark = pytest.mark.season
MOST_GROWTH_MIB = 60.0
"""What is imported late (pictures, sums) is imported meanwhile; a leak would show in the soak."""


async def test_whatever_is_sent_is_answered_and_breaks_nothing(tmp_path: Path) -> None:
    tally = await send_mutated(1000, 1, tmp_path)
    assert tally.good, str(tally)
    assert tally.answered + tally.broken == 1000
    assert tally.growth_mib < MOST_GROWTH_MIB
