"""`tenbell update NEW`: back up, put the newer version in the place of this one, verify it, and go back if it fails.

Only the standard library is imported: the libraries themselves may be replaced meanwhile. What is replaced waits in
`.before-update`; an update that was interrupted is undone by the next one before it begins.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from deploy.user_service.install import ServiceTrouble, installed, pause, resume
from deploy.virtual_environment import Environment

PARTS = (".ci", ".gitignore", "DEVELOPERS.md", "LICENSE", "README.md", "bot", "deploy", "pyproject.toml", "storage",
         "tests")  # fmt: skip
"""What belongs to the program; nothing else in its folder is touched."""
NEEDED = ("bot/__main__.py", "deploy/run.py", "deploy/requirements.txt", "pyproject.toml", "storage/migrations")
LIBRARIES = ("pyproject.toml", "deploy/requirements.txt", "deploy/requirements-test.txt")
"""When one of these differs, the libraries are installed anew."""
WELL_S = 120.0
"""How long the new version may take to come on line."""
IN_USE = """import sys; from pathlib import Path; from storage.lock import only_process
with only_process(Path(sys.argv[1])): pass"""
LOAD = "import bot.app; from bot.actions.core.registry import register_all; register_all()"
TRY = """import sys; from pathlib import Path
from storage.database_file import check_database; from storage.migrate import migrate
migrate(Path(sys.argv[1])); check_database(Path(sys.argv[1]))"""


class UpdateTrouble(Exception):
    """The update did not work; the text says what, and everything is as it was."""


def run_beside(release: Path, database: Path) -> int:
    """Have the update done by the Python that the environment was made with, as the environment may be replaced."""
    root = Path(__file__).resolve().parent.parent
    base = str(getattr(sys, "_base_executable", sys.executable))
    command = [base, str(root / "deploy" / "run.py"), "update", str(release.absolute())]
    command += ["--database", str(database.absolute())]
    if os.name == "nt":
        print("On Windows, type this instead:\n" + subprocess.list2cmdline(command))
        return 2
    return subprocess.run(command, check=False).returncode


class Update:
    """One update of the program in a folder."""

    def __init__(self, root: Path, database: Path, say: Callable[[str], None] = print) -> None:
        self._root = root
        self._aside = root / ".before-update"
        self._database = database
        self._environment = Environment()
        self._old_libraries = self._environment.folder.with_name(f"{self._environment.folder.name}.before-update")
        self._say = say

    def run(self, release: Path) -> None:
        """Do it.

        Raises:
            UpdateTrouble: it did not work; program, libraries and database are as they were.
        """
        if not (self._root / "pyproject.toml").is_file():
            raise UpdateTrouble("This Tenbell is not a folder of its own (a container?). Update it the way it came.")
        if self._aside.exists():
            self._say("An earlier update was interrupted: going back first.")
            self._go_back()
        with tempfile.TemporaryDirectory() as scratch:
            source = _unpacked(release, Path(scratch))
            ran = self._stopped()
            try:
                backup = self._backed_up()
                self._replaced(source, backup, Path(scratch), ran)
            except BaseException:
                if ran:
                    self._say("Starting the version you had.")
                    self._start_again()
                raise
        self._say("Updated. The backup made before it stays where backups are kept.")

    def _stopped(self) -> bool:
        """Stop a running bot that is a service; True when there was one to be started again."""
        if not self._in_use():
            return False
        if not installed():
            raise UpdateTrouble("Tenbell is running. Stop it (Ctrl-C where it runs), then update again.")
        self._say("Stopping the service.")
        pause()
        for _ in range(50):
            if not self._in_use():
                return True
            time.sleep(0.2)
        self._start_again()
        raise UpdateTrouble("The service does not stop. Nothing was changed.")

    def _start_again(self) -> None:
        try:
            resume()
        except ServiceTrouble as trouble:
            self._say(f"Please start it yourself: {trouble}")

    def _in_use(self) -> bool:
        looked = self._python("-c", IN_USE, str(self._database))
        if looked.returncode and "DatabaseInUse" not in looked.stderr:
            raise UpdateTrouble(f"This version does not work, so nothing was changed. {_last_line(looked)}")
        return looked.returncode != 0

    def _backed_up(self) -> Path | None:
        if not self._database.is_file():
            return None
        done = self._python("-m", "bot", "backup", "--database", str(self._database))
        path = done.stdout.strip().rpartition(": ")[2]
        if done.returncode or not Path(path).is_file():
            raise UpdateTrouble(f"No backup could be made, so nothing was changed. {_last_line(done)}")
        self._say(f"Backed up: {path}")
        return Path(path)

    def _replaced(self, source: Path, backup: Path | None, scratch: Path, ran: bool) -> None:
        started = False
        try:
            self._put_in_place(source)
            self._verified(backup, scratch)
            if ran:
                self._say("Starting the new version.")
                started = True
                resume()
                self._on_line()
        except (Exception, KeyboardInterrupt) as error:
            self._say("That did not work: going back to the version you had.")
            if started:
                # What did not start cannot be stopped everywhere.
                with suppress(ServiceTrouble):
                    pause()
            self._go_back()
            if started and backup is not None and self._python("-c", TRY, str(self._database)).returncode:
                # Only a database that this version cannot use: whatever people have done since stands in no backup.
                self._restored(backup)
            raise UpdateTrouble(f"Not updated; everything is as it was. {error}") from error
        shutil.rmtree(self._aside, ignore_errors=True)
        shutil.rmtree(self._old_libraries, ignore_errors=True)

    def _put_in_place(self, source: Path) -> None:
        self._say("Putting the new version in place.")
        fresh = [name for name in LIBRARIES if not _same(self._root / name, source / name)]
        self._aside.mkdir()
        for name in PARTS:
            if (self._root / name).exists():
                (self._root / name).rename(self._aside / name)
            if (source / name).is_dir():
                shutil.copytree(source / name, self._root / name, ignore=shutil.ignore_patterns("__pycache__"))
            elif (source / name).exists():
                shutil.copy2(source / name, self._root / name)
        if fresh and self._environment.folder.exists():
            self._environment.folder.rename(self._old_libraries)
            # The new version's own way to make its environment, by the Python that runs us.
            command = [sys.executable, str(self._root / "deploy" / "run.py"), "setup"]
            done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=self._root)
            if done.returncode:
                raise UpdateTrouble(f"Its libraries could not be installed. {_last_line(done)}")

    def _verified(self, backup: Path | None, scratch: Path) -> None:
        self._say("Verifying it.")
        loaded = self._python("-c", LOAD)
        if loaded.returncode:
            raise UpdateTrouble(f"The new version does not start. {_last_line(loaded)}")
        if backup is not None:
            # Copied by the standard library: the backup is one file that nobody writes.
            copy = scratch / "try.db"
            shutil.copyfile(backup, copy)
            tried = self._python("-c", TRY, str(copy))
            if tried.returncode:
                raise UpdateTrouble(f"The new version cannot use the database. {_last_line(tried)}")

    def _on_line(self) -> None:
        until = time.monotonic() + WELL_S
        while self._python("-m", "bot", "status", "--database", str(self._database)).returncode:
            if time.monotonic() > until:
                raise UpdateTrouble("The new version did not come on line.")
            time.sleep(1)

    def _go_back(self) -> None:
        for name in PARTS:
            if not (self._aside / name).exists():
                continue
            here = self._root / name
            if here.is_dir():
                shutil.rmtree(here)
            else:
                here.unlink(missing_ok=True)
            (self._aside / name).rename(here)
        shutil.rmtree(self._aside)
        if self._old_libraries.exists():
            shutil.rmtree(self._environment.folder, ignore_errors=True)
            self._old_libraries.rename(self._environment.folder)

    def _restored(self, backup: Path) -> None:
        done = self._python("-m", "bot", "restore", str(backup), "--database", str(self._database))
        if done.returncode:
            raise UpdateTrouble(f"Program as before, but put the backup back by hand: tenbell restore {backup}")

    def _python(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        """Run the environment's Python in the program's folder, with whatever version lies there now."""
        return subprocess.run(
            [str(self._environment.python), "-B", *arguments],
            cwd=self._root,
            capture_output=True,
            text=True,
            check=False,
        )


def _unpacked(release: Path, scratch: Path) -> Path:
    """The folder of the newer version, taken out of its zip if need be."""
    folder = release
    if release.is_file():
        folder = scratch / "release"
        try:
            with zipfile.ZipFile(release) as archive:
                archive.extractall(folder)
        except (zipfile.BadZipFile, OSError) as error:
            raise UpdateTrouble(f"{release} is no zip file that I can unpack. Nothing was changed.") from error
        inner = list(folder.iterdir())
        folder = inner[0] if len(inner) == 1 and inner[0].is_dir() else folder
    missing = [name for name in NEEDED if not (folder / name).exists()]
    if missing:
        raise UpdateTrouble(f"{release} is no version of Tenbell ({missing[0]} is missing). Nothing was changed.")
    return folder


def _same(one: Path, other: Path) -> bool:
    return one.is_file() and other.is_file() and one.read_bytes() == other.read_bytes()


def _last_line(done: subprocess.CompletedProcess[str]) -> str:
    lines = (done.stderr.strip() or done.stdout.strip()).splitlines()
    return lines[-1] if lines else ""


def main(options: list[str]) -> int:
    """Update as the command line says: NEW [--database FILE]; returns the exit code."""
    database = Path(os.environ.get("TENBELL_DATABASE") or "tenbell.db").absolute()
    if len(options) == 3 and options[1] == "--database":
        database = Path(options[2]).absolute()
    elif len(options) != 1:
        print("usage: python3 deploy/run.py update NEW [--database FILE]", file=sys.stderr)
        return 2
    try:
        Update(Path(__file__).resolve().parent.parent, database).run(Path(options[0]).absolute())
    except (UpdateTrouble, ServiceTrouble) as trouble:
        print(trouble, file=sys.stderr)
        return 1
    return 0
