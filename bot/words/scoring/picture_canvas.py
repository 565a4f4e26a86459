"""What is drawn on a picture, in inches from its lower left corner.

`bot/words/scoring/picture_sheet.py` does the drawing, and is imported late.
"""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from bot.words.core.font_files import letters
from bot.words.scoring.picture_colours import FILLS, INK, PAPER, SOFT, TRACK
from storage.records.people import Squad

WIDTH = 3.75
"""Inches; at 216 dots an inch a picture is 810 dots wide. On a phone of 320 dots the smallest letters are 10 high."""
DOTS = 216
MARGIN = 0.15
FULL = WIDTH - 2 * MARGIN
KEPT = 24
"""Pictures that are kept in memory, of about 30 kB each."""


@dataclass(frozen=True)
class Pen:
    """How a line of text is written."""

    size: float = 11.0
    colour: str = INK
    weight: Literal["normal", "bold"] = "normal"
    align: Literal["left", "center", "right"] = "left"


TITLE = Pen(12, weight="bold")
LABEL = Pen(11, weight="bold")
END = Pen(11, weight="bold", align="right")
NOTE = Pen(9, SOFT)
STAMP = Pen(9, INK)
NUMBER = Pen(9, align="center")
"""In a hatched piece, in the colour that its kind asks for."""


class Canvas:
    """One picture of the given height in inches, `WIDTH` wide. What is drawn is noted, and drawn in the end."""

    def __init__(self, height: float) -> None:
        self.height = height
        self._strokes: list[tuple[Any, ...]] = []

    def write(self, x: float, y: float, text: str, pen: Pen, room: float | None = None) -> None:
        """Write one line, its middle at height `y`, shortened until it fits its room."""
        self._strokes.append(("write", x, y, text, pen, room))

    def head(self, title: str, stamp: str) -> None:
        """The title, and below it whether it is complete and of which day."""
        self.write(MARGIN, self.height - 0.24, title, TITLE, FULL)
        self.write(MARGIN, self.height - 0.46, stamp, STAMP, FULL)

    def number(self, x: float, y: float, text: str, kind: int) -> None:
        """Write a number inside a piece of this kind, on a patch of its plain colour."""
        self._strokes.append(("number", x, y, text, kind % len(FILLS)))

    def bare(self, left: float, base: float, width: float, height: float, colour: str = TRACK) -> None:
        """A plain rectangle."""
        self._strokes.append(("bare", left, base, width, height, colour))

    def piece(self, left: float, base: float, width: float, height: float, kind: int) -> None:
        """A rectangle in the colour and hatching of its kind."""
        self._strokes.append(("piece", left, base, width, height, kind % len(FILLS)))
        if width > 0.02:
            # A thin line of paper between neighbours, which a hatching alone would let run together.
            self.bare(left + width - 0.012, base, 0.012, height, PAPER)

    def area(self, corners: Sequence[tuple[float, float]], colour: str) -> None:
        """A shape with these corners."""
        self._strokes.append(("area", tuple(corners), colour))

    def line(self, x: float, y: float, to_x: float, to_y: float, colour: str = INK, width: float = 1.5) -> None:
        """A straight line."""
        self._strokes.append(("line", x, y, to_x, to_y, colour, width))

    def dot(self, x: float, y: float, colour: str = INK, filled: bool = True, size: float = 7.0) -> None:
        """A round mark, filled or hollow."""
        self._strokes.append(("dot", x, y, colour, filled, size))

    def png(self) -> bytes:
        """The picture as a PNG that depends on what is drawn alone."""
        return _drawn(self.height, tuple(self._strokes))


@lru_cache(maxsize=KEPT)
def _drawn(height: float, strokes: tuple[tuple[Any, ...], ...]) -> bytes:
    """The strokes as a PNG; the same ones are not drawn again while somebody leafs to and fro."""
    from bot.words.scoring.picture_sheet import Sheet

    sheet = Sheet(height)
    for stroke, *how in strokes:
        getattr(sheet, stroke)(*how)
    return sheet.png()


def drawable_name(squad: Squad) -> str:
    """The squad's name, or its number where the picture's letters lack those of the name or run the other way."""
    drawable = all(ord(one) in letters() and unicodedata.bidirectional(one) not in ("R", "AL") for one in squad.name)
    return squad.name if drawable else f"Squad {squad.number}"
