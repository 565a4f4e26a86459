"""Running another program to its end; only the standard library is imported."""

from __future__ import annotations

import subprocess
from pathlib import Path
from typing import Any


def run(command: list[str], folder: Path | None = None, **how: Any) -> int:
    """Run a program to its end and return its exit code; Ctrl-C reaches it too, and it is given time to tidy up."""
    with subprocess.Popen(command, cwd=folder, **how) as process:
        while True:
            try:
                code = process.wait()
            except KeyboardInterrupt:
                continue
            return code if code >= 0 else 128 - code
