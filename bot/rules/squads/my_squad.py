"""My squad, the student's own page: how many turns are listed on it, and what is said to come next."""

from typing import Literal

from storage.records.tryout import State

SHOWN_TURNS = 8
"""So many turns at the practice table, and times of the event day, are listed."""


def comes_next(state: State) -> Literal["result", "read-result", ""]:
    """Once everything is handed in: that the result comes, or, when it is announced, where it is to be read."""
    if state == "announced":
        return "read-result"
    return "result" if state in ("judging", "settled") else ""
