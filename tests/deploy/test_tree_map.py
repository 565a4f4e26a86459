"""The map of the code is whole."""

from deploy.tree_map import FOLDERS, ROOT, first_line, tree_map


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
