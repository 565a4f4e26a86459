"""Updating: the real program in a folder of its own, newer versions that work, and such that do not."""

import hashlib
import os
import shutil
import sqlite3
import stat
import subprocess
import sys
import zipfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from deploy import update as subject
from deploy.update import PARTS, Update, UpdateTrouble
from storage.backup import backups
from storage.lock import only_process
from storage.migrate import migrate, migrations

ROOT = Path(__file__).resolve().parents[2]
pytestmark = pytest.mark.skipif(os.name == "nt", reason="on Windows another Python must be started by hand")


def copy_program(to: Path) -> Path:
    for name in PARTS:
        if name == "tests":
            continue
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, to / name, ignore=shutil.ignore_patterns("__pycache__", "pictures"))
        elif (ROOT / name).exists():
            to.mkdir(exist_ok=True)
            shutil.copy2(ROOT / name, to / name)
    return to


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The program as it runs now, with a database, and an environment whose Python is this one."""
    scripts = tmp_path / "environment" / "bin"
    scripts.mkdir(parents=True)
    python = scripts / "python"
    python.write_text(f'#!/bin/sh\nexec "{sys.executable}" "$@"\n', "utf-8")
    python.chmod(0o755)
    monkeypatch.setenv("TENBELL_ENVIRONMENT", str(tmp_path / "environment"))
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("PYTHONPATH", raising=False)
    program = copy_program(tmp_path / "program")
    migrate(program / "tenbell.db")
    (program / "my-plan.toml").write_text("# mine", "utf-8")
    return program


@pytest.fixture
def release(tmp_path: Path) -> Path:
    """A newer version: the same, but for its README."""
    newer = copy_program(tmp_path / "newer")
    (newer / "README.md").write_text("# Tenbell, newer", "utf-8")
    return newer


def state(root: Path) -> dict[str, str]:
    """Every file of the program and its database, as digests."""
    files = [path for path in root.rglob("*") if path.is_file() and "backups" not in str(path)]
    return {
        str(path.relative_to(root)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in files
        if "__pycache__" not in path.parts and not path.name.endswith((".lock", "-shm", "-wal"))
    }


def update(root: Path, release: Path) -> list[str]:
    said: list[str] = []
    Update(root, root / "tenbell.db", said.append).run(release)
    return said


def test_a_newer_version_takes_the_place_of_this_one_and_leaves_the_rest_alone(root: Path, release: Path) -> None:
    (release / "bot" / "added.py").write_text("", "utf-8")
    packed = release.with_name("tenbell-newer.zip")
    with zipfile.ZipFile(packed, "w") as archive:
        for path in release.rglob("*"):
            archive.write(path, Path("tenbell-newer") / path.relative_to(release))
    before = state(root)
    said = update(root, packed)
    after = state(root)
    assert {name for name in after if after[name] != before.get(name)} == {"README.md", "bot/added.py"}
    steps = [line.split(":")[0] for line in said[:3]]
    assert steps == ["Backed up", "Putting the new version in place.", "Verifying it."]
    assert len(backups(root / "tenbell.db")) == 1
    assert not (root / ".before-update").exists()


def does_not_start(release: Path) -> None:
    (release / "bot" / "app.py").write_text("this is no program", "utf-8")


def cannot_use_the_database(release: Path) -> None:
    (release / "storage" / "migrations" / "9999_broken.sql").write_text("ALTER TABLE nothing RENAME TO more;", "utf-8")


def has_libraries_that_cannot_be_had(release: Path) -> None:
    lock = release / "deploy" / "requirements.txt"
    lock.write_text(f"no-such-library==1.0 --hash=sha256:{'0' * 64}\n", "utf-8")


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (does_not_start, "does not start"),
        (cannot_use_the_database, "cannot use the database"),
        (has_libraries_that_cannot_be_had, "libraries could not be installed"),
    ],
)
def test_what_does_not_work_is_undone(
    root: Path, release: Path, monkeypatch: pytest.MonkeyPatch, spoil: Callable[[Path], None], said: str
) -> None:
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    spoil(release)
    before = state(root)
    with pytest.raises(UpdateTrouble, match=said) as trouble:
        update(root, release)
    assert str(trouble.value).startswith("Not updated; everything is as it was.")
    assert state(root) == before
    assert sorted(path.name for path in root.parent.iterdir() if "environment" in path.name) == ["environment"]
    assert (root.parent / "environment" / "bin" / "python").stat().st_mode & stat.S_IXUSR


def test_an_interrupted_update_is_undone_by_the_next(root: Path, release: Path) -> None:
    before = state(root)
    (root / ".before-update").mkdir()
    (root / "bot").rename(root / ".before-update" / "bot")
    (root / "bot").mkdir()
    assert update(root, release)[0].startswith("An earlier update was interrupted")
    after = state(root)
    assert {name for name in before if after[name] != before[name]} == {"README.md"}


def test_what_is_no_version_of_it_is_refused_before_anything_happens(root: Path, tmp_path: Path) -> None:
    (tmp_path / "holiday.zip").write_text("no zip", "utf-8")
    (tmp_path / "folder").mkdir()
    for odd in (tmp_path / "holiday.zip", tmp_path / "folder"):
        with pytest.raises(UpdateTrouble, match="Nothing was changed"):
            update(root, odd)
    assert backups(root / "tenbell.db") == []


def test_a_bot_that_runs_by_hand_must_be_stopped_first(root: Path, release: Path) -> None:
    with only_process(root / "tenbell.db"), pytest.raises(UpdateTrouble, match="Stop it"):
        update(root, release)


SERVICE = """\
#!{python}
# Stands for systemctl: "stop" ends what holds the database, "start" starts what holds it and says that it is well.
import os, subprocess, sys, time
home, root, python = {home!r}, {root!r}, {python!r}
with open(home + "/told", "a") as told: told.write(sys.argv[2] + "\\n")
pid = home + "/pid"
if sys.argv[2] == "stop":
    if os.path.exists(pid): os.kill(int(open(pid).read()), 9); os.remove(pid)
    if "unloaded" in open(root + "/README.md").read(): sys.exit(3)
elif sys.argv[2] == "start":
    ill = ", ill" in open(root + "/README.md").read()
    running = subprocess.Popen([python, home + "/holds.py", "ill" if ill else "well"], cwd=root,
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    open(pid, "w").write(str(running.pid))
    while ill and not os.path.exists(root + "/tenbell.db.written"): time.sleep(0.05)
"""
HOLDS = """\
import sqlite3, sys, time
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from storage.status_file import heartbeat_file, write_heartbeat
from storage.lock import only_process
from storage.migrate import migrate
from storage.records.status_file import Heartbeat
database = Path("tenbell.db")
with only_process(database):
    heartbeat_file(database).unlink(missing_ok=True)
    if sys.argv[1] == "well":
        now = datetime.now(UTC)
        write_heartbeat(database, Heartbeat(at=now, started_at=now, version="2", pid=1, free_bytes=1, online_since=now))
    else:
        migrate(database)
        with closing(sqlite3.connect(database)) as connection, connection:
            connection.execute("INSERT INTO processed_interaction VALUES (7, '', '{}')")
        Path("tenbell.db.written").touch()
    time.sleep(600)
"""


@pytest.mark.parametrize(
    ("readme", "commands"),
    [
        ("newer", ["stop", "start"]),
        ("newer, ill", ["stop", "start", "stop", "start"]),
        ("newer, ill, of another schema, and unloaded by the manager", ["stop", "start", "stop", "start"]),
    ],
)
def test_a_service_is_stopped_and_must_come_on_line_again(
    root: Path, release: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, readme: str, commands: list[str]
) -> None:
    unit = tmp_path / ".config" / "systemd" / "user" / "tenbell.service"
    unit.parent.mkdir(parents=True)
    unit.write_text("", "utf-8")
    tools = tmp_path / "tools"
    tools.mkdir()
    fields = {"python": sys.executable, "home": str(tmp_path), "root": str(root)}
    (tools / "systemctl").write_text(SERVICE.format(**fields), "utf-8")
    (tools / "systemctl").chmod(0o755)
    (tmp_path / "holds.py").write_text(f"import sys; sys.path.insert(0, {str(root)!r})\n{HOLDS}", "utf-8")
    monkeypatch.setenv("PATH", str(tools), prepend=os.pathsep)
    monkeypatch.setattr("platform.system", lambda: "Linux")
    monkeypatch.setattr(subject, "WELL_S", 1.0 if ", ill" in readme else 120.0)
    (release / "README.md").write_text(readme, "utf-8")
    if "schema" in readme:
        more = release / "storage" / "migrations" / f"{len(migrations()) + 1:04}_more.sql"
        more.write_text("CREATE TABLE more (a TEXT) STRICT;", "utf-8")
    before = state(root)
    subprocess.run([tools / "systemctl", "--user", "start"], check=True)
    (tmp_path / "told").unlink()
    try:
        for _ in range(100):
            if Update(root, root / "tenbell.db")._in_use():
                break
        if ", ill" in readme:
            with pytest.raises(UpdateTrouble, match="did not come on line"):
                update(root, release)
            kept = state(root)
            assert {name: kept[name] for name in before if name.startswith(("bot", "README"))} == {
                name: before[name] for name in before if name.startswith(("bot", "README"))
            }
            with closing(sqlite3.connect(root / "tenbell.db")) as connection:
                assert connection.execute("PRAGMA user_version").fetchone() == (len(migrations()),)
                done = connection.execute("SELECT interaction_id FROM processed_interaction").fetchall()
            # What was done while the new version tried to come on line is lost only where this one cannot read it.
            assert done == ([] if "schema" in readme else [(7,)])
        else:
            update(root, release)
            assert (root / "README.md").read_text("utf-8") == readme
        assert (tmp_path / "told").read_text("utf-8").split() == commands
    finally:
        subprocess.run([tools / "systemctl", "--user", "stop"], check=False)
