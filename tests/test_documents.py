"""README and the developers' page name only what is there, and every subject."""

import re

import pytest

from deploy.tree_map import ROOT

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
