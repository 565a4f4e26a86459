"""Puts each deliberate fault into a copy of the program and runs the tests that must notice it; prints a table."""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.faults.deliberate_faults import FAULTS, Fault

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("bot", "storage", "deploy", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md")
LONGEST_S = 120.0
"""What the tests of one fault may take; a check that waits for ever has noticed it, too."""


def copy(folder: Path) -> None:
    """A copy of what the tests need."""
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, folder / name)


def noticed(folder: Path, fault: Fault) -> bool:
    """Whether a test fails with this fault in the copy, which is as before afterwards."""
    path = folder / fault.file
    before = path.read_text("utf-8")
    path.write_text(before.replace(fault.old, fault.new), "utf-8")
    try:
        return _tests(folder, fault.tests) == 1
    finally:
        path.write_text(before, "utf-8")


def _tests(folder: Path, tests: str) -> int:
    """The exit code of some tests: 0 all is well, 1 some failed (or took too long)."""
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", "--basetemp", str(folder / "tmp")]
    surroundings = os.environ | {"PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            [*command, *tests.split()],
            cwd=folder,
            env=surroundings,
            capture_output=True,
            timeout=LONGEST_S,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return 1
    return done.returncode


def try_all(minutes: float, only: str = "") -> int:
    """Try the faults whose description or file holds `only`, for so long at most; 1 when the tests let one pass."""
    until = time.monotonic() + 60 * minutes
    faults = [fault for fault in FAULTS if only in fault.what or only in fault.file]
    passed: list[Fault] = []
    tried = 0
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        copy(folder)
        for fault in faults:
            if time.monotonic() > until:
                break
            began = time.monotonic()
            found = noticed(folder, fault)
            tried += 1
            passed += [] if found else [fault]
            took = time.monotonic() - began
            print(f"{'caught' if found else 'PASSED':7} {took:5.1f} s  {fault.what} ({fault.file})", flush=True)
    print(f"{tried - len(passed)} of {tried} faults caught; {len(faults) - tried} not tried")
    return int(bool(passed))


def main() -> int:
    """Read the command line and try the faults."""
    parser = argparse.ArgumentParser(prog="faults", description=__doc__)
    parser.add_argument("--only", default="", help="only faults in whose description or file this stands")
    parser.add_argument("--minutes", type=float, default=60.0, help="stop after so many minutes")
    chosen = parser.parse_args()
    return try_all(chosen.minutes, chosen.only)


if __name__ == "__main__":
    sys.exit(main())
