"""Which addresses are on this machine: only there may the token go unencrypted, and only there stands another clock."""

from ipaddress import ip_address
from urllib.parse import urlsplit


def is_loopback(address: str) -> bool:
    """Whether an address is on this machine."""
    try:
        host = urlsplit(address).hostname or ""
        return host == "localhost" or ip_address(host).is_loopback
    except ValueError:
        return False
