"""Whether the coach is told what came late after the bot was away, and of a night without a backup."""

from datetime import UTC, datetime, timedelta

from bot.rules.delivery.gap_and_backup_notices import can_be_told, gap_is_told, in_order, missing_backup_is_told

AT = datetime(2027, 1, 12, 12, 0, tzinfo=UTC)


def test_what_came_late_is_told_where_there_is_an_office_as_it_was_due() -> None:
    assert gap_is_told(("office", "news"), 1) and not gap_is_told(("office",), 0) and not gap_is_told(("news",), 1)
    late = [("deadline", False, AT + timedelta(minutes=1)), ("news", True, AT)]
    assert in_order(late) == late[::-1]


def test_only_the_first_night_without_a_backup_is_told_and_only_where_there_is_an_office() -> None:
    assert can_be_told({"office": 1}) and not can_be_told({"news": 1})
    assert missing_backup_is_told(known=False) and not missing_backup_is_told(known=True)
