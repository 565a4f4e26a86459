"""A text that tells somebody to press a button names one that there is."""

import ast
import re
from pathlib import Path

WORDS = Path(__file__).parents[2] / "bot" / "words"
NAMED = re.compile(r"(?:[Pp]ress|[Bb]uttons?|[Uu]nder|[Oo]pen|then) \*\*([A-Z][^*{}]+)\*\*")
COMPOSED = {"Enter run-off"}
"""Labels that are put together of parts."""
LONGEST = 80
"""Characters of a label, by the platform's limit."""


def said(path: Path) -> list[str]:
    """Every string of a file; of one with names put in, the parts between them."""
    return [
        node.value
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    ]


def test_every_button_that_is_named_exists() -> None:
    texts = {path: said(path) for path in sorted(WORDS.rglob("*.py"))}
    labels = {text for found in texts.values() for text in found if len(text) <= LONGEST and "**" not in text}
    named = {(name, path.name) for path, found in texts.items() for text in found for name in NAMED.findall(text)}
    assert len(named) > 50
    assert {(name, where) for name, where in named if name not in labels | COMPOSED} == set()
