"""A picture dot by dot: sharp rectangles, hatchings that can be told apart, letters that keep to their room."""

from io import BytesIO
from itertools import combinations

import pytest
from PIL import Image, ImageChops, ImageColor, ImageFont

from bot.words.scoring.picture_canvas import DOTS, FULL, MARGIN, NOTE, WIDTH, Canvas, Pen
from bot.words.scoring.picture_colours import FILLS, HATCHES, INK, LINES_ON, PAPER, TEXT_ON, TRACK
from bot.words.scoring.picture_sheet import TILE, _fitting, _from_left_to_right, _letters, _tile

Dot = tuple[int, int, int]
KINDS = range(len(FILLS))
PALE = "#8fb6d6"


def drawn(canvas: Canvas) -> Image.Image:
    return Image.open(BytesIO(canvas.png())).convert("RGB")


def colours(image: Image.Image) -> dict[Dot, int]:
    """How many dots there are of each colour."""
    found = image.getcolors(image.width * image.height)
    assert found is not None
    return {colour: count for count, colour in found if isinstance(colour, tuple)}  # type: ignore[misc]


def rgb(colour: str) -> Dot:
    red, green, blue = ImageColor.getrgb(colour)[:3]
    return red, green, blue


def used(image: Image.Image) -> tuple[int, int, int, int]:
    """The smallest box, left, top, right, bottom, outside which there is nothing but paper."""
    found = ImageChops.difference(image, Image.new("RGB", image.size, PAPER)).getbbox()
    assert found is not None
    return found


def test_a_rectangle_has_sharp_edges_where_it_was_asked_for() -> None:
    canvas = Canvas(1.0)
    canvas.bare(0.25, 0.5, 1.5, 0.25, TRACK)
    image = drawn(canvas)
    assert used(image) == (54, 54, 54 + 324, 108)
    assert set(colours(image)) == {rgb(PAPER), rgb(TRACK)}
    assert colours(image)[rgb(TRACK)] == 324 * 54


@pytest.mark.parametrize("kind", KINDS)
def test_a_hatched_piece_with_a_number_holds_our_colours_exactly(kind: int) -> None:
    canvas = Canvas(1.0)
    canvas.piece(MARGIN, 0.3, 2.0, 0.4, kind)
    canvas.number(MARGIN + 1.0, 0.5, "88.8", kind)
    image = drawn(canvas)
    wanted = {rgb(PAPER), rgb(FILLS[kind]), rgb(TEXT_ON[kind])} | ({rgb(LINES_ON[kind])} if HATCHES[kind] else set())
    assert wanted <= set(colours(image))
    assert used(image)[1:] == (216 - round(0.7 * DOTS), used(image)[2], 216 - round(0.3 * DOTS))
    around = (round(1.15 * DOTS) - 33, 104, round(1.15 * DOTS) - 31, 114)
    assert set(colours(image.crop(around))) == {rgb(FILLS[kind])}, "no line of the hatching touches the number"


def test_hatchings_can_be_told_apart_without_colours_and_can_be_laid_side_by_side() -> None:
    lines = []
    for kind in KINDS:
        plain = Image.new("RGB", (TILE, TILE), FILLS[kind])
        lines.append(ImageChops.difference(_tile(kind), plain).convert("L").point([0] + [255] * 255))
    for one, other in combinations(lines, 2):
        apart = ImageChops.difference(one, other)
        assert sum(apart.histogram()[1:]) > TILE * TILE / 10
    for kind in KINDS:
        canvas = Canvas(1.0)
        canvas.piece(0, 0, WIDTH, 1.0, kind)
        image = drawn(canvas)
        moved = image.crop((TILE, TILE, 500 + TILE, 150 + TILE))
        assert ImageChops.difference(image.crop((0, 0, 500, 150)), moved).getbbox() is None


def test_text_starts_ends_or_is_centred_where_its_pen_says() -> None:
    for align, at in (("left", MARGIN), ("center", WIDTH / 2), ("right", MARGIN + FULL)):
        canvas = Canvas(1.0)
        canvas.write(at, 0.5, "HHHH", Pen(11, align=align))  # type: ignore[arg-type]
        left, top, right, bottom = used(drawn(canvas))
        edge = {"left": left, "center": (left + right) / 2, "right": right}[align]
        assert abs(edge - at * DOTS) <= 4
        # A capital's height is 0.73 of the letters' size (DejaVu Sans: 1493 of 2048 units).
        assert abs(bottom - top - 0.73 * 33) <= 1.5
        assert abs((top + bottom) / 2 - 108) <= 5


def test_a_hollow_dot_is_a_ring_and_a_line_joins_its_ends() -> None:
    canvas = Canvas(1.0)
    canvas.line(0.5, 0.5, 2.5, 0.5, INK, 2.0)
    canvas.dot(2.5, 0.5, INK, filled=False)
    canvas.dot(3.0, 0.5, INK)
    image = drawn(canvas)
    assert {image.getpixel((x, 108)) for x in (300, 540, 648)} == {rgb(INK), rgb(PAPER)}
    assert image.getpixel((540, 108)) == rgb(PAPER)
    assert image.getpixel((540, 108 - 10)) == image.getpixel((540, 108 + 10)) == rgb(INK)
    assert image.getpixel((300, 108 - 5)) == rgb(PAPER)
    left, top, right, bottom = used(image)
    assert abs(left - 105) <= 1 and abs(right - 648 - 12) <= 1 and abs(bottom - top - 24) <= 2


def test_an_area_is_filled_inside_its_corners_only() -> None:
    canvas = Canvas(1.0)
    canvas.area([(0.5, 0.1), (1.5, 0.1), (1.0, 0.9)], PALE)
    image = drawn(canvas)
    assert image.getpixel((216, 108)) == rgb(PALE)
    assert image.getpixel((115, 40)) == rgb(PAPER)
    # Half of base times height, less the thin line of paper around it.
    assert colours(image)[rgb(PALE)] == pytest.approx(216 * 0.8 * 216 / 2, rel=0.06)


@pytest.mark.parametrize("text", ["Bring as many socks home as you can " * 3, "i" * 100, "W" * 100, "W", "ab"])
def test_a_long_line_keeps_all_that_fits_and_is_measured_a_few_times_only(
    text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    measured = []
    measure = ImageFont.FreeTypeFont.getlength

    def counted(font: ImageFont.FreeTypeFont, line: str) -> float:
        measured.append(line)
        return measure(font, line)

    letters = _letters(NOTE.size, NOTE.weight)
    monkeypatch.setattr(ImageFont.FreeTypeFont, "getlength", counted)
    kept = _fitting(text, letters, FULL * DOTS)
    assert len(measured) <= 9
    assert kept == text or (text.startswith(kept[:-1]) and kept.endswith("…"))
    assert measure(letters, kept) <= FULL * DOTS
    if kept != text:
        assert measure(letters, text[: len(kept)] + "…") > FULL * DOTS


def test_letters_that_run_the_other_way_stand_in_their_order_on_every_system() -> None:
    assert _from_left_to_right("Crooked Spoons", seen_to=False) == "Crooked Spoons"
    assert _from_left_to_right("Żółte Łyżki", seen_to=False) == "Żółte Łyżki"
    assert _from_left_to_right("run שלום", seen_to=False) == "run םולש"
    assert _from_left_to_right("run שלום", seen_to=True) == "run שלום"
