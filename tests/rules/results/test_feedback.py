"""Feedback: in which order, what a coach writes, who has not read theirs, and what becomes of it after a correction."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.results.feedback import (
    LONGEST,
    SHORTEST,
    check_not_sent,
    in_order,
    not_sent_yet,
    read_text,
    what_becomes_of,
)
from bot.rules.scoring.standings import standings
from storage.records.results import Feedback
from tests.rules.books import NOW, counted_book

ROWS = standings(counted_book([[1], [3], [2]], [1])).rows
SENT = Feedback(squad_id=2, text="Well done, all of you.", edited_at=NOW, sent_at=NOW)


def test_squads_stand_by_number_and_who_has_read_theirs_is_left_out() -> None:
    assert [row.squad_id for row in in_order(ROWS)] == [1, 2, 3]
    assert not_sent_yet(ROWS, {2: SENT}) == [1, 3]
    with pytest.raises(Refusal, match="feedback_sent"):
        check_not_sent(SENT, "Newts")


def test_a_text_of_a_coach_says_something_and_is_cut_at_the_end() -> None:
    with pytest.raises(Refusal, match="feedback_short"):
        read_text(" " * 20 + "x" * (SHORTEST - 1))
    assert len(read_text("x" * (LONGEST + 9))) == LONGEST


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
