"""What a squad reads whose practice turns are gone."""

from datetime import UTC, datetime

from bot.words.practice.all_turns_admin import told_taken_back
from bot.words.practice.lost_closed_or_cancelled_turns import told_blocked, told_lost, told_moved

START = datetime(2027, 1, 12, 17, 10, tzinfo=UTC)


def test_one_turn_that_is_gone_and_several_are_told_apart() -> None:
    assert "this turn" in told_moved([START], START).text
    assert "these turns" in told_moved([START, START], START).text
    assert "book another" not in told_moved([START], None).text


def test_a_squad_reads_whether_and_from_when_it_can_book_another_turn() -> None:
    assert told_blocked(START, True).rows and "may book another one" in told_blocked(START, True).text
    assert not told_blocked(START, False).rows and "no turns left" in told_blocked(START, False).text
    assert not told_blocked(START, START).rows and "You can book from" in told_blocked(START, START).text


def test_a_turn_that_is_gone_does_not_count_for_whatever_reason_it_went() -> None:
    for told in (told_lost, told_blocked, told_taken_back):
        assert told(START, True).text.endswith(" It does not count as one of yours. You may book another one.")
