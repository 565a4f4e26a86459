"""What is listed with the result: in which order, and which reasons everyone reads."""

from collections.abc import Iterable
from datetime import datetime
from typing import Protocol, TypeVar

from storage.records.decisions_and_corrections import Decision


class Dated(Protocol):
    """Something that was decided at an instant."""

    @property
    def at(self) -> datetime:
        """When."""


Change = TypeVar("Change", bound=Dated)


def in_order(changes: Iterable[Change]) -> list[Change]:
    """Oldest first."""
    return sorted(changes, key=lambda change: change.at)


def reason_for_everyone(one: Decision) -> str:
    """Why, as everyone reads it; an older version kept with a leaver's part why somebody left, which is not for all."""
    return "" if one.kind == "part" else one.reason
