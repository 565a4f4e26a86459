"""A judge's own score sheets: how far each is, in which group it is listed, and which comes next."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Rubric
from storage.records.score_sheets import Sheet

Group = Literal["done", "started", "open"]
JUST_RAN = timedelta(minutes=10)
"""For so long after its attempt a squad counts as the one that its judges have just seen."""


@dataclass(frozen=True)
class Entry:
    """One sheet in a judge's list, with what it is about."""

    sheet: Sheet
    squad: Squad
    event: Event
    rubric: Rubric
    changeable: bool
    """Whether the judge may (still, or again) mark it."""
    again: bool = False
    """Opened again by the coach after the close, and not handed in since."""
    here: bool = False
    """The squad is before the judge at this moment, as far as that is known."""

    @property
    def marked(self) -> int:
        """How many criteria are marked."""
        return sum(criterion.key in self.sheet.marks for criterion in self.rubric.criteria)

    @property
    def criteria(self) -> int:
        """How many criteria there are."""
        return len(self.rubric.criteria)

    @property
    def done(self) -> bool:
        """Handed in."""
        return self.sheet.state == "submitted"

    @property
    def owed(self) -> bool:
        """Still to be marked or finished."""
        return self.sheet.owed


def just_ran(recorded_at: datetime, now: datetime) -> bool:
    """Whether a squad whose attempt was recorded then is before its judges, as far as is known."""
    return now - JUST_RAN <= recorded_at <= now


def group_of(entry: Entry) -> Group | None:
    """The group in which a judge reads a sheet; None for one of a squad that the judge stepped back from."""
    if entry.done:
        return "done"
    return entry.sheet.state if entry.sheet.state in ("started", "open") else None


def go_on(entries: Sequence[Entry]) -> Entry | None:
    """The started sheet that was saved last, if one can be finished."""
    started = [entry for entry in entries if entry.changeable and entry.sheet.state == "started"]
    return max(started, key=lambda entry: (_saved(entry), -entry.sheet.id), default=None)


def opened_again(entries: Sequence[Entry]) -> Entry | None:
    """The first handed-in sheet that the coach opened again."""
    return next((entry for entry in entries if entry.again and entry.done), None)


def next_open(entries: Sequence[Entry]) -> Entry | None:
    """The first sheet that has not been begun: of the squad that is here now, or else in the judge's order."""
    fresh = [entry for entry in entries if entry.changeable and entry.sheet.state == "open"]
    return min(fresh, key=lambda entry: not entry.here, default=None)


def comes_next(entries: Sequence[Entry]) -> Entry | None:
    """The sheet that comes next: the one that was begun last, or else the first that has not been begun."""
    return go_on(entries) or next_open(entries)


def last_saved(entries: Sequence[Entry]) -> Entry | None:
    """The sheet that was saved last."""
    saved = [entry for entry in entries if entry.sheet.version > 0 and entry.sheet.state in ("started", "submitted")]
    return max(saved, key=lambda entry: (_saved(entry), -entry.sheet.id), default=None)


def _saved(entry: Entry) -> datetime:
    assert entry.sheet.updated_at is not None
    return entry.sheet.updated_at


def is_listed(sheet: Sheet) -> bool:
    """Whether a sheet is in its judge's list, and can be owed: not one that was set aside or let go."""
    return sheet.state != "recused"


def is_there(squad_id: int, event: str, absent: Collection[tuple[int, str]]) -> bool:
    """Whether a squad is marked in an event at all: not where it is among the `absent` (squad, event)."""
    return (squad_id, event) not in absent
