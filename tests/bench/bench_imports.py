"""What the bot imports before it is needed: the slow libraries must not be among it."""

import json
import subprocess
import sys
from collections.abc import Iterator
from statistics import median

from tests.bench.programs import ROOT
from tests.bench.report import Line

SLOW = ("scipy", "matplotlib", "fpdf", "PIL", "holidays", "icalendar")

_LOOK = """
import json, sys, time
began = time.perf_counter()
import bot.__main__, bot.app
first = time.perf_counter() - began
from bot.actions.core.registry import register_all
register_all()
both = time.perf_counter() - began
print(json.dumps([{"first": first, "both": both}, sorted({name.partition(".")[0] for name in sys.modules})]))
"""


def lines(quick: bool = False) -> Iterator[Line]:
    """How long the imports take, and whether a slow library is among them."""
    seen = [_look() for _ in range(2 if quick else 5)]
    first, both = (1000 * median(run[key] for run, _ in seen) for key in ("first", "both"))
    yield Line("imports", f"{first:.0f} ms until the platform is called, {both:.0f} ms with all that the clerk can do")
    found = [name for name in SLOW if name in seen[0][1]]
    yield Line("slow libraries at the start", ", ".join(found) or "none", "none", not found)


def _look() -> tuple[dict[str, float], list[str]]:
    """Seconds of import in a new process, and the libraries it then holds."""
    shown = subprocess.run([sys.executable, "-c", _LOOK], cwd=ROOT, capture_output=True, text=True, check=True)
    seconds, libraries = json.loads(shown.stdout)
    return seconds, libraries
