"""Fault codes: the same for the same mistake at the same place, another for another place."""

from pathlib import Path

from bot.actions.core.fault_log import fault_code


def raised_in(path: Path) -> str:
    """The code of an error that a function of this name raises in this file."""
    names: dict[str, object] = {}
    exec(compile("def panel():\n    raise KeyError('Zacharias')\n", str(path), "exec"), names)
    try:
        names["panel"]()  # type: ignore[operator]
    except KeyError as error:
        return fault_code(error)
    raise AssertionError


def test_equal_names_in_two_folders_are_two_places(tmp_path: Path) -> None:
    actions = raised_in(tmp_path / "bot" / "actions" / "results" / "offers.py")
    words = raised_in(tmp_path / "bot" / "words" / "results" / "offers.py")
    assert actions != words
    assert len(actions) == 6


def test_the_code_does_not_change_with_the_folder_it_is_installed_in(tmp_path: Path) -> None:
    here = raised_in(tmp_path / "here" / "bot" / "actions" / "results" / "offers.py")
    there = raised_in(tmp_path / "there" / "bot" / "actions" / "results" / "offers.py")
    assert here == there
