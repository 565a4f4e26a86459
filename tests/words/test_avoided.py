"""No text that somebody reads holds a word that we avoid: words, plans, papers, pictures and their descriptions."""

import ast
from pathlib import Path

import pytest

from tests.words.avoided import avoided_in

ROOT = Path(__file__).parents[2]
PAPERS = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *ROOT.glob("bot/**/*.md"), *ROOT.glob("bot/**/*.toml")]
CODE = [*ROOT.glob("bot/**/*.py"), *ROOT.glob("deploy/**/*.py"), *ROOT.glob("deploy/**/*.js")]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Bring it home.", True),
        ("Talk it over at home.", False),
        ("The permission is dismissed.", False),
        ("A Mission begins", True),
        ("The referee says so.", True),
        ("an advisory judge", True),
        ("The surprise challenge", True),
        ("The surprise task starts now.", False),
    ],
)
def test_the_check_finds_what_it_is_for(text: str, found: bool) -> None:
    assert bool(avoided_in(text)) is found


def test_plans_and_papers_hold_none() -> None:
    assert len(PAPERS) >= 6
    assert {
        str(path): avoided_in(path.read_text("utf-8")) for path in PAPERS if avoided_in(path.read_text("utf-8"))
    } == {}


def test_what_is_said_and_drawn_holds_none() -> None:
    """All that goes into messages, forms and pictures, and the page of the rehearsal with its people; no docstrings."""
    found = {}
    for path in CODE:
        text = path.read_text("utf-8")
        if path.suffix == ".py":
            tree = ast.parse(text)
            notes = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
            nodes = [one.value for one in ast.walk(tree) if isinstance(one, ast.Constant) and id(one) not in notes]
            text = "\n".join(value for value in nodes if isinstance(value, str) and " " in value)
        if said := avoided_in(text):
            found[str(path.relative_to(ROOT))] = said
    assert found == {}
