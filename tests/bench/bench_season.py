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

from tests.bench.report import Line, at_most, spread
from tests.bench.timed_programs import ROOT, bots_of, rss_mib

LIMIT_S = 60.0
LOOK_S = 0.5
"""So often it is looked at how much memory the bot holds."""


def lines(quick: bool = False) -> Iterator[Line]:
    """Wall time of the whole command, and what its own books say."""
    seasons = [_season(seed) for seed in range(1, 2 if quick else 4)]
    taken = [seconds for seconds, _, _ in seasons]
    yield at_most("rehearsed season, end to end", f"{spread(taken)}, {len(taken)} seeds", median(taken), LIMIT_S,
                  "at most 60 s")  # fmt: skip
    for _, books, held in seasons:
        lost, doubled = books["lost"], books["doubled"]
        text = f"{books['acknowledged']} acknowledged, {lost} lost, {doubled} doubled; answers p99 "
        text += f"{books['ack_ms']['p99']:.0f} ms"
        yield Line(f"  season {books['seed']}", text, "none lost or doubled", not lost and not doubled)
        if held:
            yield Line("  memory of the bot", f"at most {max(held):.0f} MiB, at the end {held[-1]:.0f} MiB")


def _season(seed: int) -> tuple[float, dict[str, Any], list[float]]:
    """How long it took, what its books say, and the MiB that the bot held from time to time."""
    with TemporaryDirectory() as folder:
        out = Path(folder) / "season"
        began = time.perf_counter()
        command = [sys.executable, "-m", "deploy.rehearsal", "--quiet", "--seed", str(seed), "--out", str(out)]
        held = []
        with (Path(folder) / "said.txt").open("w+") as said:
            with subprocess.Popen(command, cwd=ROOT, stdout=said, stderr=said) as playing:
                while playing.poll() is None:
                    held += [mib for bot in bots_of(playing.pid) if (mib := rss_mib(bot)) is not None]
                    time.sleep(LOOK_S)
            taken = time.perf_counter() - began
            if not (out / "season.json").exists():
                said.seek(0)
                raise RuntimeError(said.read().strip().splitlines()[0])
        books: dict[str, Any] = json.loads((out / "season.json").read_text("utf-8"))
    return taken, books, held
