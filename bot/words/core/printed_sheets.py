"""The printer of every sheet that is filled by hand: pages with their margin, and lines of text in place."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from bot.words.core.font_files import add_letters

MARGIN = 12.0
"""All lengths are in millimetres, letters in points."""


class Printer:
    """Draws pages; `large` for large print."""

    def __init__(self, size: str, large: bool, now: datetime, folder: Path) -> None:
        from fpdf import FPDF

        self.pdf: FPDF = FPDF(format=size)
        self.large = large
        add_letters(self.pdf, folder)
        self.pdf.set_margin(MARGIN)
        self.pdf.set_auto_page_break(False)
        self.pdf.set_lang("en")
        self.pdf.set_creation_date(now)
        self.width = self.pdf.w - 2 * MARGIN
        self.bottom = self.pdf.h - MARGIN
        self._broken: dict[tuple[str, float, bool, float], list[str]] = {}

    def line(self, text: str, size: float, bold: bool = False) -> None:
        """Text over the whole width, in as many lines as it needs."""
        self._write(self._lines(text, size, bold, self.width), MARGIN, line_height(size))

    def _write(self, lines: Sequence[str], left: float, high: float) -> None:
        """Lines of the letters that are set, each in a row of this height, from where the pen is downwards."""
        pdf = self.pdf
        for one in lines:
            # Where `FPDF.cell` puts it, which takes five times as long.
            pdf.text(left + pdf.c_margin, pdf.get_y() + high / 2 + 0.3 * pdf.font_size, one)
            pdf.set_y(pdf.get_y() + high)

    def _lines(self, text: str, size: float, bold: bool, width: float) -> list[str]:
        """A text broken into lines, for which the letters are then set.

        Breaking takes most of the time of a sheet, and all sheets of a rubric say the same: each text is broken once.
        """
        self.pdf.set_font("Sheet", "B" if bold else "", size)
        what = text, size, bold, width
        if what not in self._broken:
            self._broken[what] = [text] if self._fits(text, width) else self._break(text, size, width)
        return self._broken[what]

    def _fits(self, text: str, width: float) -> bool:
        return text.isprintable() and self.pdf.get_string_width(text) < width - 2 * self.pdf.c_margin

    def _break(self, text: str, size: float, width: float) -> list[str]:
        lines = self.pdf.multi_cell(width, line_height(size), text, align="L", dry_run=True, output="LINES")
        assert isinstance(lines, list)
        return lines


def line_height(size: float) -> float:
    """The height in millimetres of a line of letters of a size in points, with a little air."""
    return size * 25.4 / 72 * 1.2
