"""The coach is told of the first night without a backup only, where there is an office."""

from bot.rules.delivery.backup_notice import can_be_told, is_told


def test_only_the_first_night_is_told_and_only_where_there_is_an_office() -> None:
    assert can_be_told({"office": 1}) and not can_be_told({"news": 1})
    assert is_told(known=False) and not is_told(known=True)
