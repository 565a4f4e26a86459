"""Signs: one for each kind of message, none without words, none written by hand."""

import ast
import re
from pathlib import Path

from bot.words.core.signs import MEANINGS, Sign, signed

WORDS = Path(__file__).parents[3] / "bot" / "words"
PICTURES = re.compile("[\u2300-\u23ff\u2600-\u27bf\U0001f000-\U0001faff]")
"""The blocks of Unicode in which emoji lie (Miscellaneous Technical, Miscellaneous Symbols, Dingbats, and plane 1)."""


def texts() -> list[tuple[Path, str]]:
    return [
        (path, node.value)
        for path in sorted(WORDS.rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    ]


def test_every_sign_has_one_meaning_and_is_one_character() -> None:
    assert set(MEANINGS) == set(Sign) and len(set(MEANINGS.values())) == len(Sign)
    assert all(len(sign) == 1 for sign in Sign)
    assert signed(Sign.BRIEF, "The brief is out.") == "📖 The brief is out."


def test_no_text_has_a_sign_of_its_own() -> None:
    assert [(path, text) for path, text in texts() if PICTURES.search(text) and path.name != "signs.py"] == []


def test_every_sign_is_used() -> None:
    source = "".join(path.read_text("utf-8") for path in WORDS.rglob("*.py"))
    assert [sign.name for sign in Sign if f"(Sign.{sign.name}" not in source.replace("\n", "").replace(" ", "")] == []
