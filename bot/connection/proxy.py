"""The proxy that a school may put between us and the platform: HTTPS_PROXY, or what the system is set to."""

from urllib.parse import unquote, urlsplit
from urllib.request import getproxies, proxy_bypass

import aiohttp

from bot.loopback import is_loopback
from bot.settings import BadSetting
from bot.words.core import startup_errors

PUBLIC = "https://discord.com"


def proxy_for(address: str | None) -> tuple[str | None, aiohttp.BasicAuth | None]:
    """The proxy on the way to an address (None: the public service), and how to log in there; none on this machine.

    The environment (HTTPS_PROXY, ALL_PROXY, NO_PROXY) comes first, then, on macOS and Windows, the system's settings.

    Raises:
        BadSetting: the proxy's address cannot be used; its password is not repeated.
    """
    address = address or PUBLIC
    if is_loopback(address) or proxy_bypass(urlsplit(address).hostname or ""):
        return None, None
    known = getproxies()
    given = known.get("https") or known.get("all")
    if not given:
        return None, None
    try:
        parts = urlsplit(given if "://" in given else f"http://{given}")
        host, port = parts.hostname, parts.port
    except ValueError:
        raise BadSetting(startup_errors.odd_proxy()) from None
    if parts.scheme not in ("http", "https") or not host:
        raise BadSetting(startup_errors.odd_proxy())
    host = f"[{host}]" if ":" in host else host
    auth = None
    if parts.username is not None:
        auth = aiohttp.BasicAuth(unquote(parts.username), unquote(parts.password or ""))
    return f"{parts.scheme}://{host}" + (f":{port}" if port else ""), auth
