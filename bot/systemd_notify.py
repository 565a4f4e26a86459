"""Telling systemd how we are, where it asks: ready, alive, stopping (sd_notify(3), without a library)."""

import logging
import os
import socket

log = logging.getLogger(__name__)


def notify(state: str) -> bool:
    """Send a state such as `READY=1` to the service manager; False where nobody asks for it, or nobody hears."""
    address = os.environ.get("NOTIFY_SOCKET", "")
    if not address or not hasattr(socket, "AF_UNIX"):
        return False
    # A name that begins with @ is an abstract socket, which begins with a zero byte.
    target = f"\0{address[1:]}" if address.startswith("@") else address
    try:
        with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as speaking:
            speaking.sendto(state.encode(), target)
    except OSError as error:
        log.warning("the service manager does not hear: %s", type(error).__name__)
        return False
    return True
