"""The bot begun before all else, so that it gets ready while the rehearsal itself is still being imported.

It finds an open door: whoever connects waits until the class server serves. Only the standard library is used here.
"""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
THE_BOT = ("-m", "bot", "run")
TOKEN = "MA==.made-up.for-the-rehearsal"
"""It opens nothing anywhere."""


class EarlyBot:
    """A bot that has been begun, and the socket at which its class server is to listen."""

    def __init__(self, database: Path, log: Path, *, arguments: tuple[str, ...] = THE_BOT) -> None:
        """Begin the bot with its database at `database`; `arguments` follow the name of the interpreter."""
        self.began = time.monotonic()
        self.listening = socket.create_server(("127.0.0.1", 0), backlog=1024)
        self.token = TOKEN
        address = f"127.0.0.1:{self.listening.getsockname()[1]}"
        environment = bot_environment(TOKEN, f"http://{address}/api/v10", f"ws://{address}/clock", database)
        self.process = begin_process(arguments, environment, log)


def bot_environment(token: str, api: str, clock: str, database: Path) -> dict[str, str]:
    """What tells the bot where everything is."""
    return {
        "TENBELL_TOKEN": token,
        "TENBELL_API": api,
        "TENBELL_DATABASE": str(database.resolve()),
        "TENBELL_CLOCK": clock,
    }


def begin_process(arguments: tuple[str, ...], environment: Mapping[str, str], log: Path) -> subprocess.Popen[bytes]:
    """Begin a bot with its log in a file; `arguments` follow the name of the interpreter."""
    inherited = {key: value for key, value in os.environ.items() if not key.startswith("TENBELL_")}
    with log.open("ab") as file:
        return subprocess.Popen(
            [sys.executable, *arguments],
            cwd=ROOT,
            env={**inherited, **environment},
            stdin=subprocess.DEVNULL,
            stdout=file,
            stderr=subprocess.STDOUT,
        )
