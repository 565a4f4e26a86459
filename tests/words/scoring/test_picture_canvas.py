"""Every picture can be read on a small phone: its letters are large enough."""

import ast
import importlib
import pkgutil
from pathlib import Path

import pytest

import bot.words
from bot.words.scoring.picture_canvas import DOTS, WIDTH, Pen

PHONE = 320
"""Dots across the smallest phone that is still about."""
LEAST = 9.5
"""Dots of the smallest letters there (common practice, no source)."""


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


@pytest.mark.parametrize("name", sorted(pens()))
def test_the_letters_of_every_pen_are_large_enough_on_a_small_phone(name: str) -> None:
    pen = pens()[name]
    assert pen.size * DOTS / 72 * PHONE / (WIDTH * DOTS) >= LEAST
