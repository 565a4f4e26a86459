"""What becomes of feedback when the result it was written for is corrected."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.rules.results.feedback_after_correction import what_becomes_of
from storage.records.results import Feedback

WRITTEN = datetime(2027, 2, 1, 15, tzinfo=UTC)
LATER = WRITTEN + timedelta(hours=1)


@pytest.mark.parametrize(
    ("sent", "draft", "becomes"),
    [
        (None, "Other words.", "stays"),
        (WRITTEN, "Well done.", "stays"),
        (WRITTEN, "Other words.", "drafted anew"),
        (WRITTEN, None, "drafted anew"),
        (LATER, "Well done.", "read again"),
        (LATER, "Other words.", "read again"),
    ],
)
def test_a_sent_draft_makes_way_and_what_the_coach_wrote_is_read_again(
    sent: datetime | None, draft: str | None, becomes: str
) -> None:
    kept = Feedback(squad_id=1, text="Well done.", edited_at=WRITTEN, sent_at=sent)
    assert what_becomes_of(kept, draft) == becomes
