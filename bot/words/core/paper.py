"""Plain text on paper: paragraphs as a PDF, with letters for almost every script."""

import re
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.words.core.plain_text import without_markup

MARGIN = 15.0
"""In millimetres."""
_INSTANT = re.compile(r"<t:(\d+):(\w)>")
_ROOM = re.compile(r"<#\d+>")
_PERSON = re.compile(r"<@!?(\d+)>")


def fonts() -> Path:
    """The folder of our letters, which cover almost every script: DejaVu Sans, with its licence beside it."""
    return Path(__file__).parent / "fonts"


def on_paper(text: str, zone: ZoneInfo, names: Mapping[int, str] | None = None) -> str:
    """A message as it reads on paper: no markup, instants in local time, no links into the class server.

    People who are called stand there by their `names`, by account.
    """

    def moment(found: re.Match[str]) -> str:
        at = datetime.fromtimestamp(int(found[1]), zone)
        return "" if found[2] == "R" else f"{at:%A} {at.day} {at:%B} {at:%Y}, {at:%H:%M}"

    text = _INSTANT.sub(moment, _ROOM.sub("the room on the class server", text))
    text = _PERSON.sub(lambda found: (names or {}).get(int(found[1]), "somebody"), text)
    return without_markup(text).replace(", .", ".")


def pdf(title: str, sections: Sequence[tuple[str, Sequence[str]]], size: str, now: datetime) -> bytes:
    """Sections with a heading and paragraphs, on as many pages as they need; `size` is `a4` or `letter`."""
    from fpdf import FPDF

    paper: FPDF = FPDF(format=size)
    texts = [title, *(text for heading, paragraphs in sections for text in (heading, *paragraphs))]
    # Of some 6,000 letters those that are written here, and what a break in a line may ask for.
    letters = sorted(set(range(0x20, 0x7F)).union(*(map(ord, text) for text in texts)))
    paper.add_font("Sheet", "", fonts() / "DejaVuSans.ttf", unicode_range=letters)
    paper.add_font("Sheet", "B", fonts() / "DejaVuSans-Bold.ttf", unicode_range=letters)
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
    return bytes(paper.output())


def _write(paper: object, text: str, points: int, *, bold: bool) -> None:
    from fpdf import FPDF

    assert isinstance(paper, FPDF)
    paper.set_font("Sheet", "B" if bold else "", points)
    high = points * 25.4 / 72
    paper.multi_cell(0, high * 1.35, text, align="L", new_x="LMARGIN", new_y="NEXT")
    paper.ln(high * 0.6)
