"""The commands of the README: what they say, what they pass on, and the exit code they leave."""

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from deploy import run as command
from deploy.virtual_environment import Environment, Trouble

SCRIPT = str(Path(command.__file__).resolve())


def test_help_names_every_command_and_needs_no_environment(tmp_path: Path) -> None:
    settings = os.environ | {"TENBELL_ENVIRONMENT": str(tmp_path / "none")}
    answer = subprocess.check_output([sys.executable, SCRIPT, "--help"], text=True, env=settings)
    assert all(f"\n  {name} " in answer for name in command.COMMANDS)
    assert not (tmp_path / "none").exists()


def test_an_update_is_begun_without_preparing_an_environment(tmp_path: Path) -> None:
    settings = os.environ | {"TENBELL_ENVIRONMENT": str(tmp_path / "none")}
    done = subprocess.run([sys.executable, SCRIPT, "update"], capture_output=True, text=True, env=settings, check=False)
    assert (done.returncode, done.stderr) == (2, "usage: python3 deploy/run.py update NEW [--database FILE]\n")
    assert not (tmp_path / "none").exists()


def test_setup_prepares_the_libraries_of_the_bot_and_runs_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    levels: list[str] = []

    def never(*_: object) -> int:
        raise AssertionError("nothing is to be run")

    monkeypatch.setattr(Environment, "prepare", lambda _environment, wanted: levels.append(wanted))
    monkeypatch.setattr(command, "run", never)
    assert command.main(["setup"]) == 0
    assert levels == ["runtime"]


def test_an_unknown_command_is_answered_with_the_help_and_code_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert command.main(["reherse"]) == 2
    assert capsys.readouterr().err.startswith("There is no command 'reherse'.")


def test_an_old_python_is_told_which_one_is_needed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 18, "final", 0))
    assert command.main(["rehearse"]) == 1
    assert capsys.readouterr().err == "Tenbell needs Python 3.11 or newer; this is Python 3.9.\n"


def test_trouble_is_one_sentence_and_nothing_is_run(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refuse(_environment: Environment, _level: str) -> None:
        raise Trouble("the disk is full.")

    def never(*_: object) -> int:
        raise AssertionError("run without an environment")

    monkeypatch.setattr(Environment, "prepare", refuse)
    monkeypatch.setattr(command, "run", never)
    assert command.main(["rehearse"]) == 1
    assert capsys.readouterr().err == "Tenbell could not be set up: the disk is full.\n"


@pytest.mark.parametrize(
    ("name", "level", "module"),
    [
        ("rehearse", "runtime", "deploy.rehearsal"),
        ("try", "runtime", "deploy.rehearsal.tryroom"),
        ("bench", "test", "tests.bench"),
        ("soak", "test", "tests.season.soak"),
    ],
)
def test_a_command_prepares_its_libraries_and_passes_every_option_on(
    name: str, level: str, module: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    levels: list[str] = []
    commands: list[list[str]] = []

    def record(line: list[str], _folder: Path | None = None) -> int:
        commands.append(line)
        return 7

    monkeypatch.setattr(Environment, "prepare", lambda _environment, wanted: levels.append(wanted))
    monkeypatch.setattr(command, "run", record)
    assert command.main([name, "--seed", "3", "--help"]) == 7
    assert levels == [level]
    assert [line[1:] for line in commands] == [["-m", module, "--seed", "3", "--help"]]


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

    monkeypatch.setattr(command, "run", record)
    monkeypatch.setattr(command, "ROOT", compiled_already(tmp_path))
    assert command.check_everything("python", "lint-imports", ["-k", "ties"]) == (1 if failing else 0)
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

    monkeypatch.setattr(command, "run", record)
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    command.check_everything("python", "lint-imports", [])
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

    monkeypatch.setattr(command, "run", record)
    monkeypatch.setattr(command, "ROOT", tmp_path)
    command.check_everything("python", "lint-imports", ["-k", "ties"])
    reading, tests = (line for line in commands if "pytest" in line)
    assert "--collect-only" in reading and "-n" not in reading and reading[-2:] == ["-k", "ties"]
    assert "--collect-only" not in tests and "-n" in tests


def test_the_exit_code_of_a_program_is_handed_on() -> None:
    assert command.run([sys.executable, "-c", "raise SystemExit(5)"]) == 5


@pytest.mark.skipif(os.name == "nt", reason="Windows has no signals of this kind")
def test_a_killed_program_is_a_failure_with_the_usual_code() -> None:
    assert command.run([sys.executable, "-c", "import os, signal; os.kill(os.getpid(), signal.SIGKILL)"]) == 137
