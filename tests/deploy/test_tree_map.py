"""The map of the code is whole, and the documents name only what is there."""

import re

import pytest

from deploy.tree_map import FOLDERS, ROOT, first_line, tree_map

DOCUMENTS = ("README.md", "DEVELOPERS.md")
PATH = re.compile(r"`((?:bot|storage|deploy|tests|\.ci)/[\w./-]*\w/?|\w+\.(?:py|toml|md))`")


def named_paths(document: str) -> set[str]:
    """The paths of the repository that a document names between backticks."""
    return set(PATH.findall((ROOT / document).read_text("utf-8")))


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_path_that_a_document_names_exists(document: str) -> None:
    assert {path for path in named_paths(document) if not (ROOT / path).exists()} == set()


def test_the_developers_page_names_every_folder_of_the_floors() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    subjects = {
        folder.name
        for floor in ("actions", "words", "rules")
        for folder in (ROOT / "bot" / floor).iterdir()
        if (folder / "__init__.py").exists()
    }
    assert {subject for subject in subjects if f"`{subject}`" not in text} == set()


def test_every_file_says_in_one_line_what_it_is() -> None:
    silent = [
        path.relative_to(ROOT).as_posix()
        for name in FOLDERS
        for path in [*(ROOT / name).rglob("*.py"), *(ROOT / name).rglob("*.sql")]
        if not first_line(path) and not path.name.startswith(("test_", "conftest"))
    ]
    assert silent == []


def test_the_map_shows_each_file_under_its_folder() -> None:
    lines = list(tree_map(("storage",)))
    assert any(line.startswith("\nstorage/tables/") for line in lines)
    shown = next(line for line in lines if line.startswith("    store.py"))
    assert first_line(ROOT / "storage" / "store.py") in shown
    assert any("migrations/0001" in line for line in lines)
