"""What every check shares: no network beyond this machine, and reproducible searches."""

import os
import sys
from ipaddress import ip_address

from hypothesis import settings

settings.register_profile("tenbell", deadline=None, print_blob=True)
settings.register_profile("ci", parent=settings.get_profile("tenbell"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "tenbell")


def _loopback(host: object) -> bool:
    name = host.decode() if isinstance(host, bytes) else host
    if name in (None, "", "localhost"):
        return True
    try:
        return ip_address(str(name)).is_loopback
    except ValueError:
        return False


def _stay_at_home(event: str, arguments: tuple[object, ...]) -> None:
    """Refuse to look up or reach any address that is not on this machine; sockets that are files pass."""
    if event == "socket.getaddrinfo":
        host = arguments[0]
    elif event in ("socket.connect", "socket.sendto") and isinstance(arguments[1], tuple):
        host = arguments[1][0]
    else:
        return
    if not _loopback(host):
        raise RuntimeError(f"a check tried to reach {host!r}; checks stay on this machine")


sys.addaudithook(_stay_at_home)
