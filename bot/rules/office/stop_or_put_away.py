"""A try-out is stopped or put away: what still forbids it while the result is not final, and if the class is told."""

from collections.abc import Iterator
from datetime import datetime
from typing import Literal

from bot.rules.calendar.step_facts import Facts, Lack
from storage.records.tryout import State

SILENT: tuple[State, ...] = ("drafting", "announced")
"""States in which putting a try-out away needs no word to the class: it knows nothing yet, or everything."""


def lacks(facts: Facts) -> Iterator[Lack]:
    """What is missing before a try-out is put away; that no result was announced is worth knowing."""
    why = forbidden_by(facts.state, facts.protests, facts.protests_end, facts.now)
    if "protests_open" in why:
        yield Lack("protests_open", fields={"number": facts.protests})
    if "protests" in why:
        yield Lack("protests", fields={"until": facts.protests_end})
    if facts.state != "announced":
        yield Lack("not_announced", blocks=False)


def forbidden_by(
    state: State, protests: int, protests_end: datetime | None, now: datetime
) -> tuple[Literal["protests_open", "protests"], ...]:
    """What forbids it: protests that are open, and days for protests that are not over.

    `protests`: those that are not decided, or were right and nothing is put right yet; `protests_end`: until when
    squads can question the result, once it is announced. A try-out without a result can be put away at any time.
    """
    found: tuple[Literal["protests_open", "protests"], ...] = ("protests_open",) if protests else ()
    if state == "announced" and protests_end is not None and now < protests_end:
        return (*found, "protests")
    return found


def class_is_told(state: State) -> bool:
    """Whether the class reads that the try-out has been called off."""
    return state not in SILENT
