"""What a squad reads as its own result: from how many judges on the lowest and the highest mark are shown."""

RANGE_FROM = 3
"""From so many judges on a squad reads the lowest and the highest mark, too: of two they would be the two marks.

That fewer than three give their numbers away is common practice of statistical offices (a threshold rule; from memory).
"""


def shows_range(judges: int) -> bool:
    """Whether a squad reads the lowest and the highest mark beside the mean."""
    return judges >= RANGE_FROM
