"""Puts each deliberate fault into a copy of the program and sees whether the tests, or a short season, notice it."""

import argparse
import sys

from tests.faults.try_faults import try_all


def main() -> int:
    """Read the command line and try the faults."""
    parser = argparse.ArgumentParser(prog="faults", description=__doc__)
    parser.add_argument("--only", default="", help="only faults in whose description or file this stands")
    parser.add_argument("--minutes", type=float, default=60.0, help="begin no other after so many minutes")
    parser.add_argument("--season", action="store_true", help="play a short season on each instead of its tests")
    parser.add_argument("--at-once", type=int, default=1, choices=(1, 2), help="so many copies at the same time")
    chosen = parser.parse_args()
    return try_all(chosen.minutes, chosen.only, season=chosen.season, at_once=chosen.at_once)


if __name__ == "__main__":
    sys.exit(main())
