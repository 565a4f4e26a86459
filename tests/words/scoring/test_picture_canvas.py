"""Every picture can be read on a small phone by anyone: letters are large enough, and every text has its contrast."""

import ast
import importlib
import pkgutil
from pathlib import Path

import pytest

import bot.words
from bot.words.scoring.picture_canvas import DOTS, WIDTH, Pen
from bot.words.scoring.picture_colours import FILLS, PAPER, TEXT_ON

PHONE = 320
"""Dots across the smallest phone that is still about."""
LEAST = 9.5
"""Dots of the smallest letters there (common practice, no source)."""


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition "relative luminance")."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio (WCAG 2.2, definition "contrast ratio")."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def pens() -> dict[str, Pen]:
    found = {}
    for module in pkgutil.walk_packages(bot.words.__path__, "bot.words."):
        if module.name.endswith(("picture", "picture_canvas")):
            for name, value in vars(importlib.import_module(module.name)).items():
                if isinstance(value, Pen):
                    found[f"{module.name}.{name}"] = value
    return found


def test_every_pen_of_a_picture_has_a_name_so_that_the_checks_below_find_it() -> None:
    made = 0
    for path in Path(bot.words.__path__[0]).rglob("*.py"):
        tree = ast.parse(path.read_text("utf-8"))
        calls = [one for one in ast.walk(tree) if isinstance(one, ast.Call) and getattr(one.func, "id", "") == "Pen"]
        named = [one.value for one in tree.body if isinstance(one, ast.Assign)]
        assert all(call in named for call in calls), path
        made += len(calls)
    assert made == len({id(pen) for pen in pens().values()})


def test_the_formula_gives_the_values_that_are_known() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("name", sorted(pens()))
def test_every_pen_can_be_read_on_paper(name: str) -> None:
    pen = pens()[name]
    assert contrast(pen.colour, PAPER) >= 4.5
    assert pen.size * DOTS / 72 * PHONE / (WIDTH * DOTS) >= LEAST


@pytest.mark.parametrize(("fill", "text"), list(zip(FILLS, TEXT_ON, strict=True)))
def test_every_number_can_be_read_in_its_bar(fill: str, text: str) -> None:
    assert contrast(fill, text) >= 4.5
