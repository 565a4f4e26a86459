"""Whether the coach is told what came late after the bot was away, and in which order."""

from datetime import UTC, datetime, timedelta

from bot.rules.delivery.gap_notice import in_order, is_told

AT = datetime(2027, 1, 12, 12, 0, tzinfo=UTC)


def test_what_came_late_is_told_where_there_is_an_office_as_it_was_due() -> None:
    assert is_told(("office", "news"), 1) and not is_told(("office",), 0) and not is_told(("news",), 1)
    late = [("deadline", False, AT + timedelta(minutes=1)), ("news", True, AT)]
    assert in_order(late) == late[::-1]
