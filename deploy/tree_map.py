"""The map of the code: every folder and file with the first line of what it says about itself.

Only the standard library is imported.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDERS = ("bot", "storage", "deploy", "tests")


def first_line(path: Path) -> str:
    """The first line of a module's docstring, of an SQL file's comment, or nothing."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".sql":
        opening = text.partition("\n")[0]
        return opening.removeprefix("--").strip() if opening.startswith("--") else ""
    return (ast.get_docstring(ast.parse(text)) or "").partition("\n")[0]


def tree_map(folders: tuple[str, ...] = FOLDERS) -> Iterator[str]:
    """The lines of the map: folders with their subject, and under each its files."""
    for name in folders:
        for folder in sorted({path.parent for path in (ROOT / name).rglob("*.py")} | {ROOT / name}):
            opening = folder / "__init__.py"
            subject = first_line(opening) if opening.exists() else ""
            yield f"\n{folder.relative_to(ROOT).as_posix()}/  {subject}".rstrip()
            files = [*folder.glob("*.py"), *folder.glob("*.sql")]
            if folder.name == "storage":
                files += folder.glob("migrations/*.sql")
            for path in sorted(files):
                if path.name != "__init__.py":
                    yield f"    {path.relative_to(folder).as_posix():34} {first_line(path)}"
