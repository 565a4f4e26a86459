"""One code a person, for phones in the same network: a page to show or print, and the address of this machine there."""

from __future__ import annotations

import socket
from collections.abc import Iterable
from html import escape

NOBODY = "192.0.2.1"
"""An address kept for documentation (RFC 5737): nothing is sent to it, the system only says how it would be reached."""
WARNING = (
    "For invented data only. Whoever in this network photographs a code can be that person, and what is sent is not "
    "encrypted. Type no real names here, and end the command when you are done."
)


def own_address() -> str:
    """Return this machine's address in its network; raises `OSError` where it is in none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        asked.connect((NOBODY, 9))
        return str(asked.getsockname()[0])


def codes_page(people: Iterable[tuple[str, str, str]]) -> str:
    """Return the page: for each person a name, what the person is, and the code of the person's own address."""
    import segno

    cards = "".join(
        f"<li><h2>{escape(name)}</h2><p>{escape(what)}</p>{segno.make(address, micro=False).svg_inline(scale=4)}</li>"
        for name, what, address in people
    )
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Codes for phones</title>
<link rel="stylesheet" href="shared_look.css"><link rel="stylesheet" href="room.css"></head>
<body><main class="leaf"><h1>Codes for phones</h1><p><b>{WARNING}</b></p>
<ul class="cards codes">{cards}</ul></main></body></html>
"""
