"""Measures speed and memory and prints each figure beside what was promised, all in one run on one machine.

Every file `bench_NAME.py` here is one part: a function `lines()`, or `lines(quick)`, that returns what to print.
"""

import argparse
import importlib
import inspect
import os
import pkgutil
import sys
import time
from collections.abc import Callable, Iterable
from typing import Any

import tests.bench as home
from tests.bench.report import Line


def parts() -> dict[str, Callable[..., Iterable[Any]]]:
    """The parts by name, in alphabetical order."""
    found = {}
    for module in sorted(pkgutil.iter_modules(home.__path__), key=lambda one: one.name):
        if module.name.startswith("bench_"):
            found[module.name.removeprefix("bench_")] = importlib.import_module(f"{home.__name__}.{module.name}").lines
    return found


def main(arguments: list[str]) -> int:
    """Measure, print, and return 1 if a promise was not kept or a part could not be measured."""
    known = parts()
    parser = argparse.ArgumentParser(prog="deploy/run.py bench", description=__doc__)
    parser.add_argument("--only", choices=sorted(known), action="append", help="measure this part (may be repeated)")
    parser.add_argument("--quick", action="store_true", help="fewer runs, for a first impression")
    chosen = parser.parse_args(arguments)
    missed = 0
    print(f"{os.cpu_count()} processors, {_busy()}")
    for name in chosen.only or known:
        print(f"\n== {name}", flush=True)
        began = time.monotonic()
        try:
            for line in _ask(known[name], chosen.quick):
                print(line, flush=True)
                missed += isinstance(line, Line) and line.kept is False
        except Exception as error:  # noqa: BLE001 - one part that fails must not hide the others
            print(f"could not be measured: {type(error).__name__}: {error}", flush=True)
            missed += 1
        print(f"   ({time.monotonic() - began:.0f} s)", flush=True)
    print(f"\n{missed} promises not kept." if missed else "\nEvery promise was kept.")
    return 1 if missed else 0


def _busy() -> str:
    """How busy the machine is with other things: figures taken meanwhile are too high."""
    if not hasattr(os, "getloadavg"):
        return "load unknown"
    return f"load of the last minute before the start {os.getloadavg()[0]:.1f}"


def _ask(lines: Callable[..., Iterable[Any]], quick: bool) -> Iterable[Any]:
    return lines(quick) if inspect.signature(lines).parameters else lines()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
