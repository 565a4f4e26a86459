"""`tenbell try`: a made-up class in your browser: you are anyone, the real bot answers, the others act themselves."""

import argparse
import asyncio
import signal
import sys
import webbrowser
from contextlib import suppress
from pathlib import Path

from deploy.rehearsal.season.bot_process import BotDied
from deploy.rehearsal.tryroom.kept_state import FOLDERS, Unreadable, free_folder, holds_season
from deploy.rehearsal.tryroom.open_room import open_room, reopen_room
from deploy.rehearsal.tryroom.phone_codes import WARNING
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.tryroom.web import Web


def main() -> int:
    """Open the room, show its address, and keep it until Ctrl-C."""
    chosen = _parser().parse_args()
    try:
        if chosen.go_on is not None:
            room = reopen_room(chosen.go_on)
        else:
            folder = chosen.out or free_folder()
            if holds_season(folder):
                print(f"{folder} holds a season already. Go on with it:  --continue {folder}", file=sys.stderr)
                return 2
            room = open_room(folder, chosen.seed, None if chosen.plan is None else chosen.plan.read_bytes())
    except (OSError, ValueError, Unreadable) as error:
        print(error, file=sys.stderr)
        return 2
    try:
        return asyncio.run(_run(room, chosen.port, show=chosen.open, phones=chosen.phones))
    except BotDied as died:
        print(died, file=sys.stderr)
        return 1
    except OSError as error:
        print(f"The page cannot be opened: {error}", file=sys.stderr)
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tenbell try",
        description="Try Tenbell in your browser as the coach, a student, a judge or the scorekeeper. A made-up class "
        "plays along. Nothing leaves this machine, unless you say --phones. Ctrl-C ends it, and everything is kept.",
    )
    parser.add_argument("--no-open", dest="open", action="store_false", help="only print the address")
    parser.add_argument(
        "--port", type=int, default=0, metavar="N", help="another port of this machine (default: a free one)"
    )
    parser.add_argument("--plan", type=Path, metavar="FILE", help="try your own plan instead of the built-in one")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="another number, another class (default 1)")
    parser.add_argument(
        "--out", type=Path, metavar="DIR", help=f"folder of a new season (default: {FOLDERS}1, {FOLDERS}2 …)"
    )
    parser.add_argument(
        "--phones",
        action="store_true",
        help="also let phones of the same network in, by one code a person (for invented data only)",
    )
    parser.add_argument(
        "--continue", dest="go_on", type=Path, metavar="FOLDER", help="go on with the season kept there"
    )
    return parser


async def _run(room: TryRoom, port: int, *, show: bool, phones: bool) -> int:
    end = asyncio.Event()
    loop = asyncio.get_running_loop()
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        with suppress(NotImplementedError, AttributeError):
            loop.add_signal_handler(getattr(signal, name), end.set)
    web = Web(room, open_to_network=phones)
    await room.start()
    try:
        await web.start(port)
        print(f"Try Tenbell here:  {web.address}\nCtrl-C ends it. Everything is kept in {room.folder}.", flush=True)
        if phones:
            print(f"\nCodes for phones:  {web.address}codes\n{WARNING}", flush=True)
        if show:
            await asyncio.to_thread(webbrowser.open, web.address)
        await end.wait()
    finally:
        room.hold()
        await room.stop()
        await web.stop()
    print(f"\nKept. Go on another day:  python3 deploy/run.py try --continue {room.folder}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
