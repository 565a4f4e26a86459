"""How far intervals reach, against a published table."""

import pytest

from bot.rules.analysis.confidence_intervals import reach


@pytest.mark.parametrize(("freedom", "t"), [(1, 12.706), (2, 4.303), (4, 2.776), (10, 2.228), (30, 2.042)])
def test_intervals_reach_as_far_as_students_table_says(freedom: int, t: float) -> None:
    """Student's t, two-sided 5 %: the table of any handbook of statistics (from memory)."""
    assert reach(2.0, freedom) == pytest.approx(2 * t, rel=2e-4)
