"""Plain text on paper: paragraphs as a PDF, with letters for almost every script."""

from collections.abc import Callable, Sequence
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fpdf import FPDF

MARGIN = 15.0
"""In millimetres."""
COMMON = "common"
"""The folder, among our letters, of those that most languages of Europe with Latin letters are written in."""


def fonts() -> Path:
    """The folder of our letters, which cover almost every script: DejaVu Sans, with its licence beside it."""
    return Path(__file__).parent / "fonts"


@cache
def letters() -> frozenset[int]:
    """What our letters can write, by code point."""
    from fontTools.ttLib import TTFont

    with TTFont(fonts() / "DejaVuSans.ttf", lazy=True) as found:
        return frozenset(found.getBestCmap())


def drawn(draw: Callable[[Path], "FPDF"]) -> bytes:
    """The file of a paper, which `draw` makes with the letters of a folder.

    Most papers need only the common ones, which are read ten times as fast as all of some 6,000; where one of theirs is
    missing, it is drawn again.
    """
    from fpdf.fonts import TTFFont

    paper = draw(fonts() / COMMON)
    written = [font for font in paper.fonts.values() if isinstance(font, TTFFont)]
    if any(letters().intersection(font.missing_glyphs) for font in written):
        for font in written:
            font.ttfont.close()
        paper = draw(fonts())
    return bytes(paper.output())


def add_letters(paper: "FPDF", folder: Path) -> None:
    """Have a paper written with the letters of a folder, plain and bold."""
    paper.add_font("Sheet", "", folder / "DejaVuSans.ttf")
    paper.add_font("Sheet", "B", folder / "DejaVuSans-Bold.ttf")


def pdf(title: str, sections: Sequence[tuple[str, Sequence[str]]], size: str, now: datetime) -> bytes:
    """Sections with a heading and paragraphs, on as many pages as they need; `size` is `a4` or `letter`."""
    from fpdf import FPDF

    def draw(folder: Path) -> FPDF:
        paper: FPDF = FPDF(format=size)
        add_letters(paper, folder)
        paper.set_margin(MARGIN)
        paper.set_auto_page_break(True, MARGIN)
        paper.set_lang("en")
        paper.set_creation_date(now)
        paper.set_title(title)
        paper.add_page()
        _write(paper, title, 15, bold=True)
        for heading, paragraphs in sections:
            _write(paper, heading, 12, bold=True)
            for paragraph in paragraphs:
                _write(paper, paragraph, 10, bold=False)
        return paper

    return drawn(draw)


def _write(paper: "FPDF", text: str, points: int, *, bold: bool) -> None:
    paper.set_font("Sheet", "B" if bold else "", points)
    high = points * 25.4 / 72
    paper.multi_cell(0, high * 1.35, text, align="L", new_x="LMARGIN", new_y="NEXT")
    paper.ln(high * 0.6)
