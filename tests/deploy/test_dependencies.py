"""What the program imports is declared, so that no library is there only because another one happens to need it."""

import ast
import re
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
OWN = {"bot", "storage", "deploy"}


def imported() -> set[str]:
    """The packages that the program itself imports, by the first part of their names."""
    found: set[str] = set()
    for folder in OWN:
        for path in (ROOT / folder).rglob("*.py"):
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
                if isinstance(node, ast.ImportFrom) and node.module and not node.level:
                    names = [node.module]
                found |= {name.partition(".")[0] for name in names}
    return found - OWN - set(sys.stdlib_module_names)


def test_every_library_that_is_imported_is_declared() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    lines = [*project["dependencies"], *project["optional-dependencies"]["rehearsal"]]
    declared = {_plain(re.split(r"[<>=~! \[;]", line)[0]) for line in lines}
    owners = packages_distributions()
    missing = {name for name in imported() if not declared & {_plain(owner) for owner in owners.get(name, [name])}}
    assert missing == set()


def _plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()
