"""What the bot imports before it is needed: the slow libraries must not be among it."""

import json
import subprocess
import sys
from collections.abc import Iterator
from statistics import median

from tests.bench.report import Line
from tests.bench.timed_programs import ROOT

SLOW = ("scipy", "fpdf", "PIL", "holidays", "icalendar")

_LOOK = """
import json, sys, time
began = time.perf_counter()
import bot.__main__, bot.app
first = time.perf_counter() - began
from bot.actions.core.registry import begin, register_all
begin()
begun = time.perf_counter() - began
register_all()
everything = time.perf_counter() - began
seconds = {"first": first, "begun": begun, "everything": everything}
print(json.dumps([seconds, sorted({name.partition(".")[0] for name in sys.modules})]))
"""


def lines(quick: bool = False) -> Iterator[Line]:
    """How long the imports take, and whether a slow library is among them."""
    seen = [_look() for _ in range(2 if quick else 5)]
    first, begun, everything = (1000 * median(run[key] for run, _ in seen) for key in ("first", "begun", "everything"))
    until = f"{first:.0f} ms until the platform is called, {begun:.0f} ms until anybody can sign up"
    yield Line("imports", f"{until}, {everything:.0f} ms with all subjects")
    found = [name for name in SLOW if name in seen[0][1]]
    yield Line("slow libraries at the start", ", ".join(found) or "none", "none", not found)


def _look() -> tuple[dict[str, float], list[str]]:
    """Seconds of import in a new process, and the libraries it then holds."""
    shown = subprocess.run([sys.executable, "-c", _LOOK], cwd=ROOT, capture_output=True, text=True, check=True)
    seconds, libraries = json.loads(shown.stdout)
    return seconds, libraries
