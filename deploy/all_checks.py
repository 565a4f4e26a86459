"""Every check of `deploy/run.py test`: style, types, floors of the house, tests; which they are and how they are run.

Only the standard library is imported.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from deploy import child_process

ROOT = Path(__file__).resolve().parent.parent
_IN_PARALLEL = ["-n", "auto", "--dist", "loadfile", "--no-loadscope-reorder"]
"""By file, with the number of workers and in the order that `tests/parallel_workers.py` says."""


def _tests_are_compiled() -> bool:
    """Whether most tests lie compiled as an earlier run left them."""
    compiled = sum(1 for _ in (ROOT / "tests").rglob("test_*-pytest-*.pyc"))
    return 2 * compiled > sum(1 for _ in (ROOT / "tests").rglob("test_*.py"))


def check_everything(python: str, lint_imports: str, options: list[str]) -> int:
    """Run every check even when one fails, then name each with its outcome; 0 only when all passed.

    Types are checked beside all else, some of which waits; what is wrong with them is printed after the tests.
    """
    # Kept compiled even where that is switched off: the tests start the bot more than a hundred times.
    compiled = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    outcomes: list[tuple[str, int, float]] = []

    def check(name: str, command: list[str], **how: Any) -> None:
        began = time.monotonic()
        code = child_process.run(command, ROOT, **how)
        outcomes.append((name, code, time.monotonic() - began))

    def announce(name: str) -> None:
        print("\n== " + name, flush=True)

    with tempfile.TemporaryFile() as said, ThreadPoolExecutor(1) as beside:
        types = beside.submit(check, "types (mypy)", [python, "-m", "mypy"], stdout=said, stderr=said)
        for name, command in (
            ("style (ruff)", [python, "-m", "ruff", "check", "."]),
            ("floors (import-linter)", [lint_imports, "--no-logo"]),
        ):
            announce(name)
            check(name, command)
        announce("tests (pytest)")
        if not _tests_are_compiled():
            # The first time each worker would compile all tests for itself, beside the others.
            with tempfile.TemporaryFile() as unread:
                reading = [python, "-m", "pytest", "-q", "--collect-only", *options]
                child_process.run(reading, ROOT, env=compiled, stdout=unread, stderr=unread)
        check("tests (pytest)", [python, "-m", "pytest", "-q", *_IN_PARALLEL, *options], env=compiled)
        announce("types (mypy), checked beside all else")
        types.result()
        said.seek(0)
        print(said.read().decode(errors="replace"), end="")
    print("\n== summary")
    for name, code, seconds in outcomes:
        print(f"{'FAILED' if code else 'passed':8}{name:26}{seconds:7.1f} s")
    sys.stdout.flush()
    return max(code for _, code, _ in outcomes)
