"""Our letters, for almost every script: their files beside this one, and papers that are drawn with them."""

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fpdf import FPDF

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
