"""The strokes of a picture as dots: letters, hatched rectangles, shapes with smooth edges.

Letters and rectangles begin at whole dots, so that their edges are sharp; everything else is drawn four times as large
and made smaller.
"""

from bisect import bisect_left
from collections.abc import Callable
from functools import lru_cache
from io import BytesIO

from PIL import Image, ImageColor, ImageDraw, ImageFont, features

from bot.words.core.font_files import fonts
from bot.words.scoring.picture_canvas import DOTS, NUMBER, WIDTH, Pen
from bot.words.scoring.picture_colours import FILLS, HATCHES, INK, LINES_ON, PAPER, SOFT, TEXT_ON

POINT = DOTS / 72
FINER = 4
MIDDLE = 0.26
"""How far the middle between the highest and the lowest letters is above the line they stand on, of their size."""
TILE = 36
"""Dots after which every hatching repeats."""
THICK = 3
"""Of a line of a hatching, in dots."""
PAD = 4.5
"""Dots of plain colour around a number in a hatched piece."""
SHADES = 12
"""Steps between two colours, of which edges are made."""
_SIDES = {"left": "ls", "center": "ms", "right": "rs"}


class Sheet:
    """What the strokes of a canvas are drawn on."""

    def __init__(self, height: float) -> None:
        self.high = int(height * DOTS)
        self.image = Image.new("RGB", (int(WIDTH * DOTS), self.high), PAPER)
        self._pencil = ImageDraw.Draw(self.image)
        self._plain: set[str] = set()

    def write(self, x: float, y: float, text: str, pen: Pen, room: float | None) -> None:
        """One line, its middle at height `y`, shortened until it fits."""
        letters = _letters(pen.size, pen.weight)
        room = WIDTH - x if room is None and pen.align == "left" else room
        if room is not None and len(text) > 1:
            text = _fitting(text, letters, room * DOTS)
        self._line(x, y, text, pen, pen.colour)

    def number(self, x: float, y: float, text: str, kind: int) -> None:
        """A number on a patch of the plain colour of its kind."""
        half = _letters(NUMBER.size, NUMBER.weight).getlength(text) / 2 + PAD
        tall = NUMBER.size * POINT / 2 + PAD
        middle, top = x * DOTS, self.high - y * DOTS

        def patch(pencil: ImageDraw.ImageDraw, left: float, upper: float) -> None:
            box = [(middle - half - left) * FINER, (top - tall - upper) * FINER]
            box += [(middle + half - left) * FINER, (top + tall - upper) * FINER]
            pencil.rounded_rectangle(box, PAD * FINER, 255)

        self._smooth((middle - half, top - tall, middle + half, top + tall), FILLS[kind], patch)
        self._line(x, y, text, NUMBER, TEXT_ON[kind])

    def bare(self, left: float, base: float, width: float, height: float, colour: str) -> None:
        """A plain rectangle."""
        self._plain.add(colour)
        self.image.paste(colour, self._box(left, base, width, height))

    def piece(self, left: float, base: float, width: float, height: float, kind: int) -> None:
        """A rectangle in the colour and hatching of its kind."""
        tile = _tile(kind)
        box = self._box(left, base, width, height)
        # Hatchings begin at the same dots everywhere, so that those of neighbours of one kind meet.
        for x in range(box[0] - box[0] % TILE, box[2], TILE):
            for y in range(box[1] - box[1] % TILE, box[3], TILE):
                part = max(box[0], x), max(box[1], y), min(box[2], x + TILE), min(box[3], y + TILE)
                self.image.paste(tile.crop((part[0] - x, part[1] - y, part[2] - x, part[3] - y)), part)

    def area(self, corners: tuple[tuple[float, float], ...], colour: str) -> None:
        """A shape with these corners, and a thin line of paper around it."""
        places = [self._place(*corner) for corner in corners]

        def shape(pencil: ImageDraw.ImageDraw, left: float, upper: float) -> None:
            pencil.polygon([((x - left) * FINER, (y - upper) * FINER) for x, y in places], fill=255)

        self._plain.add(colour)
        self._smooth(_around(places), colour, shape)
        for start, end in zip(places, (*places[1:], places[0]), strict=True):
            self._stroke(start, end, PAPER, 1.0)

    def line(self, x: float, y: float, to_x: float, to_y: float, colour: str, width: float) -> None:
        """A straight line with round ends, as wide as these points."""
        self._stroke(self._place(x, y), self._place(to_x, to_y), colour, width)

    def dot(self, x: float, y: float, colour: str, filled: bool, size: float) -> None:
        """A round mark with an edge of one point, filled or hollow."""
        place = self._place(x, y)
        self._stroke(place, place, colour, size + 1)
        if not filled:
            self._stroke(place, place, PAPER, size - 1)

    def png(self) -> bytes:
        """The picture as a PNG of 256 colours: ours, exactly, and shades between those that meet."""
        target = BytesIO()
        palette = _palette(frozenset(self._plain))
        self.image.quantize(palette=palette, dither=Image.Dither.NONE).save(target, "PNG")
        return target.getvalue()

    def _line(self, x: float, y: float, text: str, pen: Pen, colour: str) -> None:
        base = self.high - y * DOTS + MIDDLE * pen.size * POINT
        letters = _letters(pen.size, pen.weight)
        place = round(x * DOTS), round(base)
        self._pencil.text(place, _from_left_to_right(text), colour, letters, _SIDES[pen.align])

    def _place(self, x: float, y: float) -> tuple[float, float]:
        return x * DOTS, self.high - y * DOTS

    def _box(self, left: float, base: float, width: float, height: float) -> tuple[int, int, int, int]:
        x, y = self._place(left, base + height)
        to_x, to_y = self._place(left + width, base)
        return round(x), round(y), max(round(x), round(to_x)), max(round(y), round(to_y))

    def _stroke(self, start: tuple[float, float], end: tuple[float, float], colour: str, width: float) -> None:
        half = width * POINT / 2

        def drawn(pencil: ImageDraw.ImageDraw, left: float, upper: float) -> None:
            ends = [((x - left) * FINER, (y - upper) * FINER) for x, y in (start, end)]
            pencil.line(ends, fill=255, width=round(2 * half * FINER))
            for point in ends:
                pencil.circle(point, half * FINER - 0.5, fill=255)

        x, y, to_x, to_y = _around([start, end])
        self._smooth((x - half, y - half, to_x + half, to_y + half), colour, drawn)

    def _smooth(
        self,
        around: tuple[float, float, float, float],
        colour: str,
        draw: Callable[[ImageDraw.ImageDraw, float, float], None],
    ) -> None:
        """Fill what `draw` draws on a finer mask; it is told where the mask's upper left corner is."""
        left, upper = int(around[0]) - 1, int(around[1]) - 1
        size = int(around[2]) + 2 - left, int(around[3]) + 2 - upper
        mask = Image.new("L", (size[0] * FINER, size[1] * FINER))
        draw(ImageDraw.Draw(mask), left, upper)
        self.image.paste(colour, (left, upper, left + size[0], upper + size[1]), mask.reduce(FINER))


def _around(places: list[tuple[float, float]]) -> tuple[float, float, float, float]:
    across, down = zip(*places, strict=True)
    return min(across), min(down), max(across), max(down)


def _fitting(text: str, letters: ImageFont.FreeTypeFont, room: float) -> str:
    """The text, or as much of its beginning as fits with a sign that more follows."""
    if letters.getlength(text) <= room:
        return text

    def shortened(kept: int) -> str:
        return text[:kept].rstrip() + "…"

    def too_long(kept: int) -> bool:
        return letters.getlength(shortened(kept)) > room

    # A plan may have many names of a hundred letters.
    return shortened(bisect_left(range(1, len(text)), True, key=too_long))


def _from_left_to_right(text: str, *, seen_to: bool | None = None) -> str:
    """The letters in the order in which they stand; Pillow itself sees to that where the system has FriBiDi."""
    if text.isascii() or (features.check("fribidi") if seen_to is None else seen_to):
        return text
    from fpdf.bidi import BidiParagraph

    return BidiParagraph(text).get_reordered_string()


@lru_cache(maxsize=16)
def _letters(size: float, weight: str) -> ImageFont.FreeTypeFont:
    name = "DejaVuSans-Bold.ttf" if weight == "bold" else "DejaVuSans.ttf"
    return ImageFont.truetype(fonts() / name, size * POINT)


@lru_cache(maxsize=8)
def _palette(plain: frozenset[str]) -> Image.Image:
    """The colours of pictures, with these ones as well."""
    meet = [(PAPER, INK), (PAPER, SOFT), *zip(FILLS, TEXT_ON, strict=True), *zip(FILLS, LINES_ON, strict=True)]
    colours = {tuple(ImageColor.getrgb(colour)): None for colour in sorted(plain)}
    for one, other in meet:
        pairs = list(zip(ImageColor.getrgb(one), ImageColor.getrgb(other), strict=True))
        for step in range(SHADES + 1):
            colours[tuple(round(a + (b - a) * step / SHADES) for a, b in pairs)] = None
    palette = Image.new("P", (1, 1))
    palette.putpalette([part for colour in list(colours)[:256] for part in colour])
    return palette


@lru_cache(maxsize=len(FILLS))
def _tile(kind: int) -> Image.Image:
    """A square of the colour and hatching of a kind that can be laid side by side."""
    side, thick, half = TILE * FINER, THICK * FINER, TILE * FINER // 2
    mask = Image.new("L", (side, side))
    pencil = ImageDraw.Draw(mask)
    hatch = HATCHES[kind]
    for middle in (side // 4, 3 * side // 4):
        if hatch in ("--", "++"):
            pencil.line([(0, middle), (side, middle)], 255, thick)
        if hatch == "++":
            pencil.line([(middle, 0), (middle, side)], 255, thick)
    for shift in (-side, 0, side):
        if hatch in ("//", "xx"):
            pencil.line([(shift - side, 2 * side), (shift + 2 * side, -side)], 255, thick)
        if hatch in ("\\\\", "xx"):
            pencil.line([(shift - side, -side), (shift + 2 * side, 2 * side)], 255, thick)
    if hatch in ("..", "oo"):
        rows = [(x, y) for y in (0, side) for x in (0, half, side)] + [(side // 4, half), (3 * side // 4, half)]
        for place in rows:
            if hatch == "..":
                pencil.circle(place, 3.3 * FINER, 255)
            else:
                pencil.circle(place, 5.1 * FINER, 0, 255, thick)
    tile = Image.new("RGB", (TILE, TILE), FILLS[kind])
    tile.paste(ImageColor.getrgb(LINES_ON[kind]), (0, 0), mask.reduce(FINER))
    return tile
