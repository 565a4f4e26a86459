"""Lines of text on sheets that are filled by hand: broken and placed as the library does it, only faster."""

import io
from datetime import UTC, datetime
from functools import cache

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.words.core.font_files import fonts
from bot.words.core.printed_sheets import Printer

NOW = datetime(2027, 1, 4, tzinfo=UTC)
WORDS = st.text(st.sampled_from("aW.-  éß\n\u00ad\u2003我"), max_size=60) | st.text(max_size=20)


def text_places(data: bytes) -> list[tuple[float, float, str]]:
    """Where each text of the first page begins, in points from its lower left corner."""
    found: list[tuple[float, float, str]] = []

    def note(text: str, _: object, place: list[float], *others: object) -> None:
        if text.strip():
            found.append((place[4], place[5], text.strip()))

    pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text(visitor_text=note)
    return found


@cache
def printer() -> Printer:
    made = Printer("a4", large=False, now=NOW, folder=fonts())
    made.pdf.add_page()
    return made


@given(WORDS, st.sampled_from([8.0, 15.0]), st.sampled_from([40.0, 180.0]))
def test_a_text_that_fits_its_line_is_broken_as_the_library_breaks_it(text: str, size: float, width: float) -> None:
    assert printer()._lines(text, size, False, width) == printer()._break(text, size, width)


@pytest.mark.parametrize("size", [8, 13])
def test_lines_are_where_the_cells_of_the_library_would_be(size: int) -> None:
    lines, places = ["Crooked Spoons", "Zoë"], []
    for by_hand in (True, False):
        made = Printer("a4", large=False, now=NOW, folder=fonts())
        made.pdf.add_page()
        made.pdf.set_font("Sheet", "B", size)
        made.pdf.set_xy(31, 47)
        if by_hand:
            made._write(lines, 31, 8)
        else:
            for text in lines:
                made.pdf.cell(60, 8, text, new_x="LEFT", new_y="NEXT")
        places.append((text_places(bytes(made.pdf.output())), made.pdf.get_y()))
    assert places[0] == places[1]
    assert [text for *_, text in places[0][0]] == lines
