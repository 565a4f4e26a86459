"""The commands of the README: what they say, what they pass on, and the exit code they leave."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from deploy import child_process
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
    monkeypatch.setattr(child_process, "run", never)
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
    monkeypatch.setattr(child_process, "run", never)
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
    monkeypatch.setattr(child_process, "run", record)
    assert command.main([name, "--seed", "3", "--help"]) == 7
    assert levels == [level]
    assert [line[1:] for line in commands] == [["-m", module, "--seed", "3", "--help"]]
