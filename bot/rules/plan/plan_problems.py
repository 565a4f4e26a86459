"""What can be wrong with a plan: problems, each with its place in the file."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from pydantic import ValidationError

from storage.records.base import Record

AnyRecord = TypeVar("AnyRecord", bound=Record)
Path = tuple[str | int, ...]
"""Where something stands in the plan, outermost first; places in lists count from 0."""
MOST_LISTED = 60
MOST_TOLD = 200
"""Mistakes that are told at once; the others are counted."""


@dataclass(frozen=True)
class PlanProblem:
    """One mistake, or one thing worth knowing, in a plan; `kind` names its sentence in the words."""

    path: Path
    kind: str
    found: object = None
    """The value that stands there; None where nothing stands."""
    fields: Mapping[str, object] = field(default_factory=dict)
    line: int | None = None
    """The line of the file, from 1, where it is known."""


class BadPlan(Exception):
    """A plan that cannot be used, with the mistakes in it."""

    def __init__(self, problems: tuple[PlanProblem, ...], left_out: int = 0) -> None:
        super().__init__(f"{len(problems) + left_out} mistakes in the plan")
        self.problems = problems
        self.left_out = left_out
        """How many more there are, where they are too many to be told at once."""


def tables(data: Mapping[str, Any], name: str, path: Path = ()) -> Iterator[tuple[Path, Mapping[str, Any]]]:
    """The first tables of the list `name` with their places; whatever is no table is left out.

    No list of a plan may have more than `MOST_LISTED` entries; that there are too many is told elsewhere.
    """
    entries = data.get(name)
    if isinstance(entries, list):
        for place, entry in enumerate(entries[:MOST_LISTED]):
            if isinstance(entry, dict):
                yield (*path, name, place), entry


def read_part(model: type[AnyRecord], value: object) -> AnyRecord | None:
    """A record, or None where the value is none: its own mistakes are told elsewhere."""
    try:
        return model.model_validate(value)
    except ValidationError:
        return None
