"""Which parts the coach may write."""

from datetime import UTC, datetime

from bot.rules.hand_in.parts_admin import is_for_coach
from storage.records.hand_in import Part


def test_the_coach_writes_what_is_missing_or_was_entered_by_a_coach_and_never_over_own_words() -> None:
    own = Part(student_id=1, squad_id=1, event="bunting", reason="Red.", handed_in_at=datetime(2027, 1, 21, tzinfo=UTC))
    assert [is_for_coach(part) for part in (None, own.model_copy(update={"by_coach": True}), own)] == [
        True,
        True,
        False,
    ]
