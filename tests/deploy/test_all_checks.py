"""All checks are run, whatever fails, and said with their outcome."""

from pathlib import Path
from typing import Any

import pytest

from deploy import all_checks, child_process


def compiled_already(root: Path) -> Path:
    """A folder in which tests have been run."""
    (root / "tests" / "__pycache__").mkdir(parents=True)
    (root / "tests" / "test_ties.py").touch()
    (root / "tests" / "__pycache__" / "test_ties.cpython-311-pytest-9.0.pyc").touch()
    return root


@pytest.mark.parametrize("failing", ["ruff", "mypy", "lint-imports", "pytest", None])
def test_every_check_is_run_and_one_failure_is_enough_to_fail(
    failing: str | None, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    commands: list[list[str]] = []

    def record(line: list[str], _folder: Path | None = None, **_how: Any) -> int:
        commands.append(line)
        return 1 if failing in line else 0

    monkeypatch.setattr(child_process, "run", record)
    monkeypatch.setattr(all_checks, "ROOT", compiled_already(tmp_path))
    assert all_checks.check_everything("python", "lint-imports", ["-k", "ties"]) == (1 if failing else 0)
    assert len(commands) == 4
    (tests,) = [line for line in commands if "pytest" in line]
    assert tests[-2:] == ["-k", "ties"]
    summary = capsys.readouterr().out.split("== summary\n")[1]
    assert summary.count("FAILED") == (1 if failing else 0)
    assert summary.count("passed") == (3 if failing else 4)


def test_what_is_wrong_with_the_types_is_printed_after_the_tests_and_these_run_compiled(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    surroundings: list[dict[str, str]] = []

    def record(line: list[str], _folder: Path | None = None, **how: Any) -> int:
        if "mypy" in line:
            how["stdout"].write(b"a.py:1: error: no such type\n")
        if "env" in how:
            surroundings.append(how["env"])
        return 0

    monkeypatch.setattr(child_process, "run", record)
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    all_checks.check_everything("python", "lint-imports", [])
    (said, rest) = capfd.readouterr().out.split("a.py:1: error: no such type\n")
    assert "== tests" in said and "== types" in said and "== summary" in rest
    assert surroundings and not any("PYTHONDONTWRITEBYTECODE" in one for one in surroundings)


def test_the_first_time_the_tests_are_compiled_once_before_several_workers_read_them(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    commands: list[list[str]] = []

    def record(line: list[str], _folder: Path | None = None, **_how: Any) -> int:
        commands.append(line)
        return 0

    monkeypatch.setattr(child_process, "run", record)
    monkeypatch.setattr(all_checks, "ROOT", tmp_path)
    all_checks.check_everything("python", "lint-imports", ["-k", "ties"])
    reading, tests = (line for line in commands if "pytest" in line)
    assert "--collect-only" in reading and "-n" not in reading and reading[-2:] == ["-k", "ties"]
    assert "--collect-only" not in tests and "-n" in tests
