"""The picture of one squad's way to its total."""

from fractions import Fraction

from bot.words.results.explain_total_picture import why_picture
from tests.words.scoring.test_standings_picture import judged


def test_the_way_of_one_squad_adds_up_in_the_alt_text() -> None:
    _, found = judged([[4, 2], [3, 3]])
    row = found.standings.rows[0]
    alt = why_picture(found, row, "Why?").alt
    sums = "core: 62.0 x 50 % = 31.0; bunting: 75.0 x 50 % = 37.5. Total 68.5 = 31.0 + 37.5 (rounded)."
    assert alt.startswith(f"Why? Complete. {sums}")
    assert row.total == Fraction(137, 2)
