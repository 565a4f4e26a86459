"""Out of how many members a share is (common practice, no source)."""

from bot.rules.scorekeeping.counted_shares import members_asked


def test_a_share_is_of_those_who_are_here_unless_parts_are_handed_in() -> None:
    assert members_asked(4, 3, hand_in=False) == 3
    assert members_asked(4, 3, hand_in=True) == 4
    assert members_asked(4, None, hand_in=False) == 4
