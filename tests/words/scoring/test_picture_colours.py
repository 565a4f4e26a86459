"""Every text of a picture has its contrast, on paper and in a bar, so that anyone can read it."""

import pytest

from bot.words.scoring.picture_colours import FILLS, PAPER, TEXT_ON
from tests.words.scoring.test_picture_canvas import pens

LEAST = 4.5
"""Contrast of a text (WCAG 2.2, success criterion 1.4.3)."""


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition "relative luminance")."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio (WCAG 2.2, definition "contrast ratio")."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_values_that_are_known() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("name", sorted(pens()))
def test_every_pen_can_be_read_on_paper(name: str) -> None:
    assert contrast(pens()[name].colour, PAPER) >= LEAST


@pytest.mark.parametrize(("fill", "text"), list(zip(FILLS, TEXT_ON, strict=True)))
def test_every_number_can_be_read_in_its_bar(fill: str, text: str) -> None:
    assert contrast(fill, text) >= LEAST
