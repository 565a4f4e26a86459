"""Trying deliberate faults: each in a copy of the program, where its tests, or a short season, must notice it."""

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from tests.faults.deliberate_faults import FAULTS, Fault

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("bot", "storage", "deploy", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md")
LONGEST_S = 120.0
"""What the tests of one fault may take; a check that waits for ever has noticed it, too."""
LONGEST_SEASON_S = 900.0
MARK = ".copy-for-faults"
"""Stands in the folder of a copy, which may be changed."""

Try = Callable[[Path, Fault], str]
"""Plays something in a copy; what was noticed, or nothing."""


def copy(folder: Path) -> None:
    """A copy of what the tests need."""
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name)
        else:
            shutil.copy(source, folder / name)
    (folder / MARK).touch()


def without_fault() -> str:
    """What a season notices in a copy that nobody has touched: nothing, or the season is wrong."""
    with tempfile.TemporaryDirectory() as made:
        copy(Path(made))
        return by_season(Path(made))


def with_fault(fault: Fault, attempt: Try) -> str:
    """What is noticed with this fault in a copy of its own."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        copy(folder)
        path = folder / fault.file
        before = path.read_text("utf-8")
        if before.count(fault.old) != 1:
            raise ValueError(f"{fault.file} has no {fault.old!r}, or several: mend the list")
        path.write_text(before.replace(fault.old, fault.new), "utf-8")
        return attempt(folder, fault)


def by_tests(folder: Path, fault: Fault) -> str:
    """Whether some of the fault's tests fail, or take too long."""
    command = ["-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", "--basetemp", str(folder / "tmp")]
    done = _run(folder, [*command, *fault.tests.split()], LONGEST_S)
    return "a test failed" if done is None or done.returncode == 1 else ""


def by_season(folder: Path, _fault: Fault | None = None) -> str:
    """What a short season notices."""
    done = _run(folder, ["-m", "tests.faults.short_season"], LONGEST_SEASON_S)
    if done is None:
        return "it came to no end"
    if done.returncode not in (0, 1):
        raise RuntimeError(done.stderr)
    return done.stdout.strip().partition("\n")[0] if done.returncode else ""


def _run(folder: Path, arguments: Sequence[str], seconds: float) -> "subprocess.CompletedProcess[str] | None":
    """What came of it; None when it took too long."""
    surroundings = os.environ | {"PYTHONPATH": str(folder)}
    try:
        return subprocess.run(
            [sys.executable, *arguments],
            cwd=folder,
            env=surroundings,
            capture_output=True,
            text=True,
            timeout=seconds,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return None


def try_all(minutes: float, only: str = "", *, season: bool = False, at_once: int = 1) -> int:
    """Try the faults whose description or file holds `only`, for so long at most; 1 when one passes."""
    until = time.monotonic() + 60 * minutes
    faults = [fault for fault in FAULTS if only in fault.what or only in fault.file]
    attempt = by_season if season else by_tests
    if season and (wrong := without_fault()):
        print(f"Without any fault the season notices this, so that it says nothing of the faults: {wrong}")
        return 1

    def one(fault: Fault) -> bool | None:
        began = time.monotonic()
        if began > until:
            return None
        found = with_fault(fault, attempt)
        took = time.monotonic() - began
        why = f": {found[:160]}" if season and found else ""
        print(f"{'caught' if found else 'PASSED':7} {took:5.1f} s  {fault.what} ({fault.file}){why}", flush=True)
        return bool(found)

    with ThreadPoolExecutor(at_once) as pool:
        found = [one for one in pool.map(one, faults) if one is not None]
    print(f"{sum(found)} of {len(found)} faults caught; {len(faults) - len(found)} not tried")
    return int(not all(found))
