"""The rehearsed season from end to end: a new process, the real bot, everybody's phones."""

import json
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from tests.bench.programs import ROOT
from tests.bench.report import Line, at_most, spread

LIMIT_S = 60.0


def lines(quick: bool = False) -> Iterator[Line]:
    """Wall time of the whole command, and what its own books say."""
    seasons = [_season(seed) for seed in range(1, 2 if quick else 4)]
    taken = [seconds for seconds, _ in seasons]
    yield at_most("rehearsed season, end to end", f"{spread(taken)}, {len(taken)} seeds", median(taken), LIMIT_S,
                  "at most 60 s")  # fmt: skip
    for _, books in seasons:
        lost, doubled = books["lost"], books["doubled"]
        text = f"{books['acknowledged']} acknowledged, {lost} lost, {doubled} doubled; answers p99 "
        text += f"{books['ack_ms']['p99']:.0f} ms"
        yield Line(f"  season {books['seed']}", text, "none lost or doubled", not lost and not doubled)


def _season(seed: int) -> tuple[float, dict[str, Any]]:
    with TemporaryDirectory() as folder:
        out = Path(folder) / "season"
        began = time.perf_counter()
        command = [sys.executable, "-m", "deploy.rehearsal", "--quiet", "--seed", str(seed), "--out", str(out)]
        ended = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
        taken = time.perf_counter() - began
        if not (out / "season.json").exists():
            raise RuntimeError((ended.stderr or ended.stdout).strip().splitlines()[0])
        books: dict[str, Any] = json.loads((out / "season.json").read_text("utf-8"))
    return taken, books
