"""Plain text on paper: a title, headings and paragraphs as a PDF."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from bot.words.core.font_files import add_letters, drawn

if TYPE_CHECKING:
    from fpdf import FPDF

MARGIN = 15.0
"""In millimetres."""


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
