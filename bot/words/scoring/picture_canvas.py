"""A sheet to draw on, in inches from its lower left corner, and our colours.

The drawing library is imported late, because that takes longer than an answer may; whoever draws does so beside the
event loop. Colours differ in lightness as well as in hue, and each has a hatching of its own, so that nothing depends
on seeing colours.
"""

import unicodedata
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import Any, Literal

from storage.records.people import Squad

WIDTH = 3.75
"""Inches; at 216 dots an inch a picture is 810 dots wide. On a phone of 320 dots the smallest letters are 10 high."""
DOTS = 216
MARGIN = 0.15
FULL = WIDTH - 2 * MARGIN
INK = "#20262e"
SOFT = "#5b6672"
PAPER = "#fbfaf7"
TRACK = "#e7e3da"
FILLS = ("#17456b", "#f0b429", "#2f9c95", "#b5492c", "#b9a3d9", "#6b7440", "#8fd0f0", "#7a2f5e")
"""Dark blue, amber, teal, brick, lilac, moss, sky, plum."""
TEXT_ON = ("#ffffff", INK, INK, "#ffffff", INK, "#ffffff", INK, "#ffffff")
"""What is written on each fill; every pair has a contrast of 4.5 to 1 or more (WCAG 2, success criterion 1.4.3)."""
LINES_ON = ("#17456b", "#fbd98a", "#7cc7c2", "#dc8a72", "#dccff0", "#a6ad7e", "#d2edfb", "#b7729d")
"""The hatching of each fill: a lighter shade of it, so that the numbers stay in front."""
KEPT = 24
"""Pictures that are kept in memory, of about 100 kB each."""
HATCHES = ("", "//", "..", "\\\\", "xx", "--", "oo", "++")


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


class Canvas:
    """One picture of the given height in inches, `WIDTH` wide. What is drawn is noted, and drawn in the end."""

    def __init__(self, height: float) -> None:
        self.height = height
        self._strokes: list[tuple[Any, ...]] = []

    def write(self, x: float, y: float, text: str, pen: Pen, room: float | None = None) -> None:
        """Write one line, its middle at height `y`, shortened until it fits its room."""
        self._strokes.append((_Sheet.write, x, y, text, pen, room))

    def head(self, title: str, stamp: str) -> None:
        """The title, and below it whether it is complete and of which day."""
        self.write(MARGIN, self.height - 0.24, title, TITLE, FULL)
        self.write(MARGIN, self.height - 0.46, stamp, STAMP, FULL)

    def number(self, x: float, y: float, text: str, kind: int) -> None:
        """Write a number inside a piece of this kind, on a patch of its plain colour."""
        self._strokes.append((_Sheet.number, x, y, text, kind % len(FILLS)))

    def bare(self, left: float, base: float, width: float, height: float, colour: str = TRACK) -> None:
        """A plain rectangle."""
        self._strokes.append((_Sheet.bare, left, base, width, height, colour))

    def piece(self, left: float, base: float, width: float, height: float, kind: int) -> None:
        """A rectangle in the colour and hatching of its kind."""
        self._strokes.append((_Sheet.piece, left, base, width, height, kind % len(FILLS)))
        if width > 0.02:
            # A thin line of paper between neighbours, which a hatching alone would let run together.
            self.bare(left + width - 0.012, base, 0.012, height, PAPER)

    def area(self, corners: Sequence[tuple[float, float]], colour: str) -> None:
        """A shape with these corners."""
        self._strokes.append((_Sheet.area, tuple(corners), colour))

    def line(self, x: float, y: float, to_x: float, to_y: float, colour: str = INK, width: float = 1.5) -> None:
        """A straight line."""
        self._strokes.append((_Sheet.line, x, y, to_x, to_y, colour, width))

    def dot(self, x: float, y: float, colour: str = INK, filled: bool = True, size: float = 7.0) -> None:
        """A round mark, filled or hollow."""
        self._strokes.append((_Sheet.dot, x, y, colour, filled, size))

    def png(self) -> bytes:
        """The picture as a PNG that depends on what is drawn alone."""
        return _drawn(self.height, tuple(self._strokes))


class _Sheet:
    """What a canvas is drawn on."""

    def __init__(self, height: float) -> None:
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure

        self._figure = Figure(figsize=(WIDTH, height), dpi=DOTS, facecolor=PAPER)
        FigureCanvasAgg(self._figure)
        self._axes = self._figure.add_axes((0.0, 0.0, 1.0, 1.0))
        self._axes.set_xlim(0, WIDTH)
        self._axes.set_ylim(0, height)
        self._axes.axis("off")

    def write(self, x: float, y: float, text: str, pen: Pen, room: float | None) -> None:
        drawn = self._axes.text(
            x, y, text, fontsize=pen.size, color=pen.colour, fontweight=pen.weight, ha=pen.align, va="center"
        )
        drawn.set_parse_math(False)
        room = WIDTH - x if room is None and pen.align == "left" else room
        if room is None or len(text) < 2 or drawn.get_window_extent().width <= room * DOTS:
            return

        def too_long(kept: int) -> bool:
            drawn.set_text(_shortened(text, kept))
            return bool(drawn.get_window_extent().width > room * DOTS)

        # Measuring is dear: a plan may have many names of a hundred letters.
        kept = bisect_left(range(1, len(text)), True, key=too_long)
        drawn.set_text(_shortened(text, kept))

    def number(self, x: float, y: float, text: str, kind: int) -> None:
        patch = {"boxstyle": "round,pad=0.16", "facecolor": FILLS[kind], "edgecolor": "none"}
        self._axes.text(x, y, text, fontsize=9, color=TEXT_ON[kind], ha="center", va="center", bbox=patch)

    def bare(self, left: float, base: float, width: float, height: float, colour: str) -> None:
        from matplotlib.patches import Rectangle

        self._axes.add_patch(Rectangle((left, base), width, height, facecolor=colour, linewidth=0))

    def piece(self, left: float, base: float, width: float, height: float, kind: int) -> None:
        from matplotlib.patches import Rectangle

        self._axes.add_patch(
            Rectangle(
                (left, base),
                width,
                height,
                facecolor=FILLS[kind],
                edgecolor=LINES_ON[kind],
                hatch=HATCHES[kind],
                linewidth=0,
            )
        )

    def area(self, corners: tuple[tuple[float, float], ...], colour: str) -> None:
        from matplotlib.patches import Polygon

        self._axes.add_patch(Polygon(list(corners), closed=True, facecolor=colour, edgecolor=PAPER, linewidth=1.0))

    def line(self, x: float, y: float, to_x: float, to_y: float, colour: str, width: float) -> None:
        self._axes.plot((x, to_x), (y, to_y), color=colour, linewidth=width, solid_capstyle="round")

    def dot(self, x: float, y: float, colour: str, filled: bool, size: float) -> None:
        face = colour if filled else PAPER
        self._axes.plot([x], [y], marker="o", markersize=size, color=colour, markerfacecolor=face, linestyle="none")

    def png(self) -> bytes:
        target = BytesIO()
        self._figure.savefig(target, format="png", facecolor=PAPER, metadata={"Software": None})
        return target.getvalue()


def _shortened(text: str, kept: int) -> str:
    return text[:kept].rstrip() + "…"


@lru_cache(maxsize=KEPT)
def _drawn(height: float, strokes: tuple[tuple[Any, ...], ...]) -> bytes:
    """The strokes as a PNG; the same ones are not drawn again while somebody leafs to and fro."""
    sheet = _Sheet(height)
    for stroke, *how in strokes:
        stroke(sheet, *how)
    return sheet.png()


def drawable_name(squad: Squad) -> str:
    """The squad's name, or its number where the picture's letters lack those of the name or run the other way."""
    from matplotlib.font_manager import findfont, get_font

    letters = get_font(findfont("DejaVu Sans")).get_charmap()
    drawable = all(ord(one) in letters and unicodedata.bidirectional(one) not in ("R", "AL") for one in squad.name)
    return squad.name if drawable else f"Squad {squad.number}"
