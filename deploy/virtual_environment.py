"""The folder `.venv`: exactly the libraries of a lock file, each checked against its hash, and the project itself.

A stamp written last says what the folder holds; without it the folder is made anew, so an interrupted installation is
mended by the next run, and a complete one is used at once. Only the standard library is imported.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import platform
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LOCKS = {"runtime": ROOT / "deploy" / "requirements.txt", "test": ROOT / "deploy" / "requirements-test.txt"}
STAMP = "tenbell.json"
GUARD = "tenbell.guard"
LOG = "tenbell-install.log"

MENDS = (
    (
        r"DO NOT MATCH THE HASHES",
        "a library arrived altered: it is not the one the lock file names, and it was not installed. "
        "Try again on another network; if it happens again, stop and tell the people who look after Tenbell.",
    ),
    (r"No space left|Errno 28|not enough space", "the disk is full. Free about 1 GB and run this again."),
    (
        r"NameResolution|name resolution|getaddrinfo|NewConnectionError|onnect(ion)?Timeout|Read timed out|ProxyError"
        r"|unreachable|Connection (refused|reset|aborted)|RemoteDisconnected|SSLError|MaxRetryError",
        "the libraries could not be fetched. Check the network connection (some school networks need a proxy), "
        "then run this again.",
    ),
    (
        r"No matching distribution|Could not find a version",
        f"a library has no ready-made build for Python {platform.python_version()} on this {platform.system()} "
        "computer. Python 3.11 to 3.14, 64 bit, on Linux, macOS or Windows is known to have them all.",
    ),
    (r"Permission denied|Errno 13|Access is denied", "a file could not be written. Stop a running Tenbell, try again."),
)


class Trouble(Exception):
    """Something a person has to mend; the text says what, in one or two sentences."""


class Environment:
    """The folder that holds the libraries, and the stamp that says which."""

    def __init__(self, folder: Path | None = None) -> None:
        """Name the folder: `.venv` beside the project, or what TENBELL_ENVIRONMENT says."""
        self.folder = folder or Path(os.environ.get("TENBELL_ENVIRONMENT") or ROOT / ".venv").absolute()
        self.scripts = self.folder / ("Scripts" if os.name == "nt" else "bin")
        self.python = self.scripts / ("python.exe" if os.name == "nt" else "python")
        self._kept_open: tuple[int, ...] = ()

    def prepare(self, level: str) -> None:
        """Make the folder hold the libraries of a lock ("runtime" or "test") and the project itself.

        Raises `Trouble` when that cannot be done; what is half done then is made anew next time.
        """
        if self._lacks(level) is None:
            return
        for module in ("venv", "ensurepip"):
            if importlib.util.find_spec(module) is None:
                raise Trouble(
                    f"this Python lacks its module {module}. On Debian and Ubuntu: sudo apt install python3-venv; "
                    "elsewhere install Python from its own site."
                )
        try:
            with self._alone():
                self._mend(level)
        except OSError as error:
            raise Trouble(
                f"the folder {self.folder} could not be written ({error.strerror or error}). "
                "Stop a running Tenbell, check who may write there, then run this again."
            ) from error

    def _mend(self, level: str) -> None:
        lack = self._lacks(level)
        if lack is None:
            return
        began = time.monotonic()
        if lack == "project":
            level = self._stamp()["level"]
        (self.folder / STAMP).unlink(missing_ok=True)
        if lack == "all":
            print(f"Setting up Tenbell in {self.folder} (once).", flush=True)
            self._clear()
            self._create()
        if lack != "project":
            lock = LOCKS[level]
            self._pip("libraries", "--require-hashes", "--only-binary", ":all:", "-r", str(lock), expected=pins(lock))
        self._pip("tenbell", "--no-deps", "--no-build-isolation", "--editable", str(ROOT))
        written = self.folder / (STAMP + ".new")
        written.write_text(json.dumps({"base": base(), "level": level, "project": project()}), encoding="utf-8")
        written.replace(self.folder / STAMP)
        print(f"Ready after {time.monotonic() - began:.0f} s.", flush=True)

    def _lacks(self, level: str) -> str | None:
        """What has to be installed: None, "project", "libraries" (on top of what is there) or "all" (from nothing)."""
        stamp = self._stamp()
        if stamp.get("base") != base() or not self.python.exists():
            return "all"
        if stamp.get("level") not in (level, "test"):
            return "libraries"
        return None if stamp.get("project") == project() else "project"

    def _stamp(self) -> dict[str, str]:
        """What the folder holds; nothing where no installation was finished."""
        try:
            stamp = json.loads((self.folder / STAMP).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return stamp if isinstance(stamp, dict) else {}

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Keep a second run from mending the same folder; the system lets go however this process ends."""
        guard = self.folder / GUARD
        if self.folder.exists() and any(self.folder.iterdir()) and not guard.exists():
            raise Trouble(
                f"the folder {self.folder} was not made by this script, so it is left alone. Delete it, "
                "or name another folder in the environment variable TENBELL_ENVIRONMENT, then run this again."
            )
        self.folder.mkdir(parents=True, exist_ok=True)
        with guard.open("a+b") as file:
            told = False
            while not locked(file.fileno()):
                if not told:
                    print("Another run is setting Tenbell up; waiting for it.", flush=True)
                    told = True
                time.sleep(0.3)
            # An installer that outlives a killed run keeps the lock, so that nobody works beside it.
            self._kept_open = () if os.name == "nt" else (file.fileno(),)
            yield

    def _clear(self) -> None:
        for entry in self.folder.iterdir():
            if entry.name == GUARD:
                continue
            if entry.is_dir() and not entry.is_symlink():
                shutil.rmtree(entry)
            else:
                entry.unlink()

    def _create(self) -> None:
        import venv

        try:
            venv.EnvBuilder(with_pip=True, symlinks=os.name != "nt").create(self.folder)
        except subprocess.CalledProcessError as error:
            raise Trouble(f"pip could not be put into {self.folder}: {said(error.output)}") from error

    def _pip(self, what: str, *arguments: str, expected: int = 0) -> None:
        command = [self.python, "-m", "pip", "--disable-pip-version-check", "--no-input", "install"]
        log = self.folder / LOG
        found = 0
        output = []
        with subprocess.Popen(
            [*map(str, command), "--progress-bar", "off", *arguments],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
            pass_fds=self._kept_open,
        ) as process:
            assert process.stdout is not None
            for line in process.stdout:
                output.append(line)
                if line.startswith(("Collecting ", "Requirement already satisfied")):
                    found += 1
                    progress(f"  {what}: {found} of about {expected} fetched" if expected else f"  {what}: building")
                elif line.startswith("Installing collected packages"):
                    progress(f"  {what}: installing")
        progress("")
        log.write_text("".join(output), encoding="utf-8")
        if process.returncode:
            text = "".join(output)
            mend = next((mend for pattern, mend in MENDS if re.search(pattern, text)), said(text))
            raise Trouble(f"{mend} (the whole story: {log})")


def locked(descriptor: int) -> bool:
    """Take the lock of an open file without waiting; False when another process has it."""
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(descriptor, 0, os.SEEK_SET)
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


def base() -> str:
    """The digest of all that asks for a new environment: this Python, this place, the locked libraries."""
    parts = [sys.version.encode(), platform.machine().encode(), str(ROOT).encode()]
    return digest(*parts, *(lock.read_bytes() for lock in LOCKS.values()))


def project() -> str:
    """The digest of what the installed project is made from."""
    return digest((ROOT / "pyproject.toml").read_bytes())


def digest(*parts: bytes) -> str:
    """The SHA-256 over the SHA-256 of each part, as hexadecimal digits."""
    return hashlib.sha256(b"".join(hashlib.sha256(part).digest() for part in parts)).hexdigest()


def pins(lock: Path) -> int:
    """How many libraries a lock file names."""
    return sum(1 for line in lock.read_text(encoding="utf-8").splitlines() if re.match(r"[\w.-]+==", line))


def said(output: object) -> str:
    """The last line a program printed that looks like its reason."""
    text = output.decode(errors="replace") if isinstance(output, bytes) else str(output or "")
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    reasons = [line for line in lines if re.match(r"(?i)error", line)]
    return (reasons or lines or ["no reason was given."])[-1]


def progress(text: str) -> None:
    """Show a line that the next one replaces, where a person is watching."""
    if sys.stdout.isatty():
        print("\r" + text.ljust(60) + ("" if text else "\r"), end="", flush=True)
