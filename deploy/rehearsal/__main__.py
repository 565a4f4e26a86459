"""`tenbell rehearse`: a whole made-up try-out on this machine, with the real bot, in less than a minute.

Little is imported here, so that the bot is begun before the rest: both then get ready at the same time.
"""

import argparse
import os
import sys
from pathlib import Path

from deploy.rehearsal.season.early_bot import EarlyBot
from deploy.rehearsal.season.troubles import TROUBLES, wanted_kinds


def main() -> int:
    """Play a season, print the standings and where the results lie; 1 when something was lost or doubled."""
    chosen = _parser().parse_args()
    out: Path = chosen.out
    if (out / "tenbell.db").exists():
        print(f"{out} holds a rehearsal already; name another folder with --out, or delete it.", file=sys.stderr)
        return 2
    early = None
    if chosen.plan is None:
        out.mkdir(parents=True, exist_ok=True)
        early = EarlyBot(out / "tenbell.db", out / "bot.log")
    from deploy.rehearsal.season.rehearse import rehearse

    return rehearse(out, chosen.seed, chosen.plan, wanted_kinds(chosen.trouble), early, quiet=chosen.quiet)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tenbell rehearse",
        description="Play a made-up try-out from the first day to the result: the real bot, a class server on this "
        "machine, and invented people on their phones. Nothing leaves this machine.",
    )
    parser.add_argument("--out", type=Path, default=Path("rehearsal"), metavar="DIR", help="folder for the results")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="another number, another season (default 1)")
    parser.add_argument("--plan", type=Path, metavar="FILE", help="rehearse your own plan instead of the built-in one")
    parser.add_argument(
        "--trouble",
        nargs="+",
        choices=TROUBLES,
        default=[],
        metavar="KIND",
        help=f"let things go wrong: {', '.join(TROUBLES)}",
    )
    parser.add_argument("--quiet", action="store_true", help="print the standings only")
    return parser


if __name__ == "__main__":
    code = main()
    sys.stdout.flush()
    # Everything is written: to take the season apart piece by piece before the end would be waited for in vain.
    os._exit(code)
