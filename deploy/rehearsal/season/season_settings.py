"""What a season is played from: where, when, with how many people; as built in, or read from somebody's own plan."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from deploy.rehearsal.cast.people import JUDGES, MORE_JUDGES, SQUADS
from deploy.rehearsal.season.built_in_season import BRIEF, LARGEST, SECTIONS, SMALLEST, ZONE

WEEK_BEFORE = timedelta(days=7, hours=6)
"""So long before anything is due a season begins."""
MOST_STUDENTS = 150
MOST_JUDGES = len(JUDGES) + len(MORE_JUDGES)


@dataclass(frozen=True)
class Script:
    """What a season is played from."""

    seed: int
    plan: bytes | None
    zone: str
    sections: list[str]
    smallest: int
    largest: int
    brief: datetime
    """Local, in the zone."""
    trouble: frozenset[str] = frozenset()
    squads: int = SQUADS
    judges: int = len(JUDGES)
    opens: datetime | None = None
    """When sign-up closes, where that is not at the brief; local."""

    @property
    def begins(self) -> datetime:
        """When the season begins: a week and a morning before anything is due."""
        first = self.brief if self.opens is None else min(self.brief, self.opens)
        return first.replace(tzinfo=ZoneInfo(self.zone)) - WEEK_BEFORE


def script(seed: int, plan: bytes | None, trouble: frozenset[str] = frozenset()) -> Script:
    """Read from a plan file what the cast must know to act: who is in which section, and when it begins.

    Raises:
        ValueError: the file is no plan that can be read.
    """
    if plan is None:
        return Script(seed, None, ZONE, SECTIONS, SMALLEST, LARGEST, BRIEF, trouble)
    try:
        return _from_plan(seed, plan, tomllib.loads(plan.decode()), trouble)
    except (
        UnicodeDecodeError,
        tomllib.TOMLDecodeError,
        KeyError,
        TypeError,
        AttributeError,
        ZoneInfoNotFoundError,
    ) as wrong:
        raise ValueError(f"The plan cannot be read ({wrong}). `tenbell plan check FILE` says what is wrong.") from wrong


def _from_plan(seed: int, plan: bytes, table: dict[str, Any], trouble: frozenset[str]) -> Script:
    calendar, squads = table["calendar"], table.get("squads", {})
    brief, closes = calendar["brief"], calendar.get("signup_closes")
    if not isinstance(brief, datetime) or brief.tzinfo is not None:
        raise ValueError("The plan's brief needs a local date and time, such as 2026-10-12T15:30:00.")
    largest = int(squads.get("largest", 5))
    measures = [measure for event in table["events"] for measure in event["measures"]]
    wanted = [int(measure["judges_per_squad"]) for measure in measures if "judges_per_squad" in measure]
    if max(wanted, default=0) > MOST_JUDGES:
        raise ValueError(f"In the plan {max(wanted)} judges see each squad; the made-up class has {MOST_JUDGES}.")
    return Script(
        seed,
        plan,
        str(ZoneInfo(str(table["zone"]))),
        [str(section) for section in table["sections"]],
        int(squads.get("smallest", 3)),
        largest,
        brief,
        trouble,
        squads=max(2, min(SQUADS, MOST_STUDENTS // largest)),
        judges=max(len(JUDGES), *wanted, 0),
        opens=closes,
    )
