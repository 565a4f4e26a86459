"""What stands in the log about the connection: on line, out of reach and why, reached again."""

from typing import Literal

PLATFORM = "the platform"
"""What the public service is called."""
Trouble = Literal["dns", "tls", "proxy", "silent", "busy", "away", "odd"]
"""What stands between us and the platform."""
_TROUBLES: dict[Trouble, str] = {
    "dns": "its name is not found. Is this computer connected to the network?",
    "tls": "the encrypted connection failed. Are date and time of this computer right? Some school networks open "
    "encrypted connections; then ask whoever looks after the network.",
    "proxy": "the proxy does not let me through. Look at HTTPS_PROXY, and ask whoever looks after the network.",
    "silent": "it does not answer. Is this computer connected to the network?",
    "busy": "it, or something on the way to it, takes no requests just now.",
    "away": "the connection fails. Is this computer connected to the network?",
    "odd": "the answer makes no sense. Perhaps a log-in page of the network stands in between.",
}


def connected(name: str, servers: int) -> str:
    """In the log, once the bot is on line."""
    return f"{name} is on line in {servers} class server{'' if servers == 1 else 's'}."


def cannot_reach(address: str, trouble: Trouble) -> str:
    """In the log while the platform cannot be reached: why, and that we go on trying."""
    return f"I cannot reach {address}: {_TROUBLES[trouble]} I keep trying; nothing is lost meanwhile."


def reached_again(address: str, seconds: float) -> str:
    """In the log, once it works again."""
    minutes = round(seconds / 60)
    after = f"{minutes} minute{'' if minutes == 1 else 's'}" if seconds >= 60 else f"{round(seconds)} seconds"
    return f"I reach {address} again, after {after}."
