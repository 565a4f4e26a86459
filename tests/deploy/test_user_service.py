"""The bot as a service of its user: what the three systems read, and what is done with it."""

import os
import plistlib
import shutil
import sqlite3
import stat
import subprocess
import sys
from contextlib import closing
from pathlib import Path, PureWindowsPath
from xml.etree import ElementTree

import pytest

from bot.__main__ import main
from deploy.user_service import unit_files
from deploy.user_service.unit_files import (
    TASK_NAMESPACE,
    Service,
    database_of,
    launchd_list,
    systemd_unit,
    windows_task,
)
from storage.migrate import migrate

ODD = Service(
    python=Path("/home/ms h/ten bell/.venv/bin/python"),
    program=Path("/home/ms h/ten bell"),
    database=Path('/home/ms h/100% $HOME "class".db'),
    token_file=Path("/home/ms h/token"),
)
posix = pytest.mark.skipif(os.name == "nt", reason="POSIX alone")


def test_the_verifier_of_systemd_finds_nothing_to_say(tmp_path: Path) -> None:
    verifier = shutil.which("systemd-analyze")
    if verifier is None:
        pytest.skip("this machine has no systemd-analyze")
    service = Service(Path(sys.executable), tmp_path, tmp_path / "a b.db", tmp_path / "token")
    unit = tmp_path / "tenbell.service"
    unit.write_text(systemd_unit(service), "utf-8")
    command = [verifier, "verify", "--man=no", str(unit)]
    checked = subprocess.run(command, capture_output=True, text=True, check=False)
    assert [line for line in checked.stderr.splitlines() if "tenbell.service" in line] == []
    assert checked.returncode == 0, checked.stderr


def test_the_unit_is_restarted_watched_and_can_gain_no_privileges() -> None:
    lines = systemd_unit(ODD).splitlines()
    for line in ("Type=notify", "WatchdogSec=90", "Restart=on-failure", "NoNewPrivileges=yes", "UMask=0077",
                 "WantedBy=default.target"):  # fmt: skip
        assert line in lines


def test_odd_paths_reach_the_program_as_they_are() -> None:
    assert database_of("Linux", systemd_unit(ODD).encode()) == ODD.database
    assert database_of("Darwin", launchd_list(ODD)) == ODD.database
    home = PureWindowsPath("C:\\Users\\Ms Holloway")
    service = Service(home / "python.exe", home, home / "class & co.db", home / "token")
    assert str(database_of("Windows", windows_task(service))) == str(home / "class & co.db")
    # systemd gives %, $, quotes and backslashes a meaning (systemd.service(5), "Command lines").
    assert '100%% $$HOME \\"class\\".db' in systemd_unit(ODD)


def test_launchd_starts_it_again_only_after_a_fault() -> None:
    read = plistlib.loads(launchd_list(ODD))
    assert read["ProgramArguments"][:4] == [str(ODD.python), "-m", "bot", "run"]
    assert read["RunAtLoad"] is True and read["KeepAlive"] == {"SuccessfulExit": False}
    assert read["Umask"] == 63
    assert read["StandardOutPath"] == read["StandardErrorPath"] == "/home/ms h/tenbell.log"


def test_the_task_of_windows_is_utf_16_runs_without_end_and_with_the_least_rights() -> None:
    text = windows_task(ODD)
    assert text.startswith(b"\xff\xfe")
    task = ElementTree.fromstring(text)
    found = {part.tag.removeprefix(f"{{{TASK_NAMESPACE}}}"): part.text for part in task.iter()}
    assert found["Command"] == str(ODD.python)
    assert found["ExecutionTimeLimit"] == "PT0S" and found["RunLevel"] == "LeastPrivilege"
    assert found["DisallowStartIfOnBatteries"] == found["StopIfGoingOnBatteries"] == "false"
    assert [part.tag.rpartition("}")[2] for part in task] == [
        "RegistrationInfo", "Triggers", "Principals", "Settings", "Actions",
    ]  # fmt: skip


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home of its own, and a service manager that writes down what it is told."""
    tools = tmp_path / "tools"
    tools.mkdir()
    manager = tools / "systemctl"
    manager.write_text(f'#!/bin/sh\necho "$@" >> "{tmp_path}/told"\n', "utf-8")
    manager.chmod(manager.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", str(tools), prepend=os.pathsep)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setattr("platform.system", lambda: "Linux")
    monkeypatch.delenv("TENBELL_TOKEN_FILE", raising=False)
    monkeypatch.setenv("TENBELL_DATABASE", str(tmp_path / "tenbell.db"))
    return tmp_path


def told(home: Path) -> list[str]:
    return (home / "told").read_text("utf-8").splitlines()


@posix
def test_install_and_remove_leave_nothing_but_the_database_and_a_last_backup(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    token = home / "token"
    token.write_text("made-up", "utf-8")
    token.chmod(0o600)
    migrate(home / "tenbell.db")
    assert main(["service", "install", "--token-file", str(token)]) == 0
    unit = home / ".config" / "systemd" / "user" / "tenbell.service"
    assert "made-up" not in unit.read_text("utf-8")
    assert told(home) == ["--user daemon-reload", "--user enable tenbell.service", "--user restart tenbell.service"]
    assert "tenbell status --database" in capsys.readouterr().out
    assert main(["service", "remove"]) == 0
    assert not unit.exists()
    assert told(home)[3:] == ["--user disable --now tenbell.service", "--user daemon-reload"]
    assert "Saved and checked: " in capsys.readouterr().out
    assert (home / "tenbell.db").is_file()


@posix
def test_three_commands_carry_everything_to_another_computer(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (home / "token").write_text("made-up", "utf-8")
    (home / "token").chmod(0o600)
    migrate(home / "tenbell.db")
    with closing(sqlite3.connect(home / "tenbell.db")) as connection, connection:
        connection.execute("INSERT INTO processed_interaction VALUES (7, '', '{}')")
    assert main(["service", "install", "--token-file", str(home / "token")]) == 0
    capsys.readouterr()
    assert main(["service", "remove"]) == 0
    backup = capsys.readouterr().out.rpartition("Saved and checked: ")[2].strip()
    other = home / "other computer"
    other.mkdir()
    shutil.copy2(backup, other / "carried.db")
    monkeypatch.setenv("TENBELL_DATABASE", str(other / "tenbell.db"))
    assert main(["restore", str(other / "carried.db")]) == 0
    assert main(["service", "install", "--token-file", str(home / "token")]) == 0
    with closing(sqlite3.connect(other / "tenbell.db")) as connection:
        assert connection.execute("SELECT interaction_id FROM processed_interaction").fetchall() == [(7,)]


@posix
def test_what_stands_in_the_way_is_one_sentence_and_nothing_is_written(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    token = home / "token"
    assert main(["service", "install"]) == 2
    assert "--token-file" in capsys.readouterr().err
    assert main(["service", "install", "--token-file", str(token)]) == 2
    token.write_text("made-up", "utf-8")
    token.chmod(0o644)
    assert main(["service", "install", "--token-file", str(token)]) == 2
    assert "chmod 600" in capsys.readouterr().err
    assert main(["service", "remove"]) == 2
    assert "not installed" in capsys.readouterr().err
    assert not (home / ".config").exists()


@posix
def test_a_service_that_cannot_be_taken_up_is_not_half_installed(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    token = home / "token"
    token.write_text("made-up", "utf-8")
    token.chmod(0o600)
    systemctl = home / "tools" / "systemctl"
    works = systemctl.read_text("utf-8")
    systemctl.write_text("#!/bin/sh\necho 'Failed to connect to bus: No medium found' >&2; exit 1\n", "utf-8")
    assert main(["service", "install", "--token-file", str(token)]) == 2
    told = capsys.readouterr().err
    assert "daemon-reload failed: Failed to connect to bus" in told and "Log in as the user it is to run for" in told
    assert main(["service", "remove"]) == 2
    assert "not installed" in capsys.readouterr().err
    systemctl.write_text(works, "utf-8")
    assert main(["service", "install", "--token-file", str(token)]) == 0
    capsys.readouterr()
    assert main(["service", "remove"]) == 0
    assert "nothing to back up" in capsys.readouterr().out


@posix
def test_print_shows_everything_and_does_nothing(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["service", "install", "--print", "--token-file", str(home / "token")]) == 0
    shown = capsys.readouterr().out
    assert "ExecStart=" in shown and "systemctl --user enable tenbell.service" in shown
    assert not (home / ".config").exists() and not (home / "told").exists()


@pytest.mark.parametrize("system", ["Linux", "Darwin", "Windows"])
def test_every_system_has_all_its_commands(system: str, tmp_path: Path) -> None:
    file, text = unit_files.home_of(ODD, system, tmp_path)
    assert text and file.is_relative_to(tmp_path)
    commands = [
        unit_files.starting(system, file, 501), unit_files.stopping(system, 501),
        unit_files.pausing(system, 501), unit_files.resuming(system, file, 501),
    ]  # fmt: skip
    assert all(commands)
