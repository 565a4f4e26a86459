"""The real command in its own process, and a real headless browser in front of it; skipped where there is none."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
BROWSER = next((found for name in BROWSERS if (found := shutil.which(name))), None)
NO_BROWSER = f"no headless browser found on the path (looked for {', '.join(BROWSERS)})"
STARTS_WITHIN_S = 120.0
AXE = (os.environ.get("TENBELL_AXE", ""), str(ROOT / "node_modules" / "axe-core" / "axe.min.js"))
needs_browser = pytest.mark.skipif(BROWSER is None, reason=NO_BROWSER)


def axe_script() -> str:
    """The text of axe-core; skips where it is not at hand."""
    for path in AXE:
        if path and Path(path).is_file():
            return Path(path).read_text("utf-8")
    pytest.skip("axe-core is not at hand: `npm install axe-core` beside the checkout, or name the file in TENBELL_AXE")


@contextmanager
def command(*options: str, folder: Path, kill: bool = False) -> Iterator[str]:
    """Run the command until the end of the block, which ends it as Ctrl-C does (or at once); gives its address."""
    line = [sys.executable, "-m", "deploy.rehearsal.tryroom", "--no-open", *options]
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        line, cwd=folder, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as process:
        try:
            yield _address(process)
        finally:
            process.send_signal(signal.SIGKILL if kill else signal.SIGINT)
            rest = process.communicate(timeout=STARTS_WITHIN_S)[0]
    assert process.returncode == (-signal.SIGKILL if kill else 0), rest


def _address(process: subprocess.Popen[str]) -> str:
    began, said = time.monotonic(), ""
    assert process.stdout is not None
    while time.monotonic() - began < STARTS_WITHIN_S:
        line = process.stdout.readline()
        said += line
        found = re.search(r"http://\S+", line)
        if found is not None:
            return found[0]
        if not line:
            break
    raise AssertionError(f"the command did not start:\n{said}")
