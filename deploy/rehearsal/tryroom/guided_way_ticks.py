"""How a step of a guided way is recognised as done: by what the transcript says happened since the way was begun."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from deploy.rehearsal.server.transcript import Entry

WHOLE_SHEET = re.compile(r"Saved: \*\*(.+)\*\*, (?P<all>\d+) of (?P=all) marked|^\*\*(.+)\*\*\n(?:.+\n)*All \d+ marked")
"""How a judge is told that a sheet is marked to the last question: after a form, or after typing."""
Ticked = Callable[[Sequence[Entry], str], bool]
"""Whether a step is done, by what happened since the way was begun, and by whose way it is."""


def pressed(*labels: str, times: int = 1) -> Ticked:
    """A button whose label begins so was pressed, so many times."""
    return lambda entries, me: sum(_did(one, me, "press", "label", labels) for one in entries) >= times


def chose(*selects: str, what: str = "") -> Ticked:
    """Something was chosen from each list whose name begins so, and `what` the choice begins with."""
    return lambda entries, me: all(
        any(
            _did(one, me, "choice", "select", (name,)) and str(one.body["chosen"][0]).startswith(what)
            for one in entries
        )
        for name in selects
    )


def typed(*lines: str) -> Ticked:
    """A command that begins so was typed."""
    return lambda entries, me: any(_did(one, me, "command", "line", lines) for one in entries)


def marked(sheets: int) -> Ticked:
    """So many score sheets were marked to the last question, by form or by typing."""

    def ticked(entries: Sequence[Entry], me: str) -> bool:
        told = (text for one in entries if one.who != me and me in one.seen_by for text in _texts(one))
        return len({found[1] or found[3] for text in told for found in WHOLE_SHEET.finditer(text)}) >= sheets

    return ticked


def read(text: str, room: str = "") -> Ticked:
    """Something with this text came to this person, in a room whose name has `room` in it."""

    def ticked(entries: Sequence[Entry], me: str) -> bool:
        return any(
            one.who != me and me in one.seen_by and room in one.room and any(text in said for said in _texts(one))
            for one in entries
        )

    return ticked


def either(*ways: Ticked) -> Ticked:
    """One of several ways to do the same."""
    return lambda entries, me: any(way(entries, me) for way in ways)


def _texts(entry: Entry) -> list[str]:
    return [str(block["text"]) for block in entry.body.get("blocks", ()) if "text" in block]


def _did(entry: Entry, me: str, kind: str, key: str, wanted: tuple[str, ...]) -> bool:
    return entry.who == me and entry.kind == kind and str(entry.body[key]).startswith(wanted)
