"""When the day is over: what each squad still lacks before it can be ranked, and what is done about it first."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from bot.rules.scoring.measures import attempts_allowed, attempts_needed
from storage.records.people import Judge, Squad
from storage.records.plan import Event
from storage.records.plan_measures import Measure, Rubric
from storage.records.score_sheets import Sheet
from storage.records.scores import Absence, Attempt

NextStep = Literal["table", "surprise", "judges", "nothing"]


@dataclass(frozen=True)
class Missing:
    """One thing that is missing."""

    event: Event
    measure: Measure
    there: int
    of: int
    needed: bool = True
    """Whether the squad cannot be ranked without it; else it could still be done."""


def missing(
    events: Mapping[int, Sequence[Event]],
    squads: Iterable[Squad],
    attempts: Iterable[Attempt],
    sheets: Iterable[Sheet],
    absences: Iterable[Absence],
    judges: Iterable[Judge],
) -> dict[int, list[Missing]]:
    """What each squad lacks in the `events` that have begun for it: attempts that are to come, sheets not handed in.

    As in the standings: sheets of `judges` whose marks are shown and not counted change nothing, handed in or not.
    """
    made: dict[tuple[int, str, str], int] = {}
    for one in attempts:
        if not one.run_off and one.undone_at is None:
            about = (one.squad_id, one.event, one.measure)
            made[about] = made.get(about, 0) + 1
    due: dict[tuple[int, str, str], list[Sheet]] = {}
    counting = {judge.id for judge in judges if judge.weight > 0 and not judge.removed}
    for sheet in sheets:
        if sheet.state != "recused" and sheet.judge_id in counting:
            due.setdefault((sheet.squad_id, sheet.event, sheet.measure), []).append(sheet)
    away = {(one.squad_id, one.event) for one in absences}
    found: dict[int, list[Missing]] = {}
    for squad in squads:
        lacks = found.setdefault(squad.id, [])
        for event in events[squad.id]:
            if (squad.id, event.key) in away:
                continue
            for measure in event.measures:
                about = (squad.id, event.key, measure.key)
                if isinstance(measure, Rubric):
                    mine = due.get(about, [])
                    keys = {criterion.key for criterion in measure.criteria}
                    done = sum(sheet.state == "submitted" and keys <= sheet.marks.keys() for sheet in mine)
                    if done < len(mine) or not mine:
                        lacks.append(Missing(event, measure, done, len(mine)))
                elif (there := made.get(about, 0)) < attempts_allowed(measure):
                    lacks.append(
                        Missing(event, measure, there, attempts_allowed(measure), there < attempts_needed(measure))
                    )
    return found


def next_step(lacks: Iterable[Missing], unstarted: int) -> NextStep:
    """What the coach is led to: the table for runs without which nobody is ranked, surprises that wait, then judges."""
    found = list(lacks)
    if any(not isinstance(one.measure, Rubric) and one.needed for one in found):
        return "table"
    if unstarted:
        return "surprise"
    return "judges" if any(isinstance(one.measure, Rubric) for one in found) else "nothing"


def begun(
    events: Sequence[Event], squads: Iterable[Squad], for_all: Collection[str], waves: Collection[tuple[int, str]]
) -> dict[int, list[Event]]:
    """The events that have begun for each squad: a surprise when it has started for all, or in a wave of this squad."""
    return {
        squad.id: [
            event for event in events if not event.surprise or event.key in for_all or (squad.id, event.key) in waves
        ]
        for squad in squads
    }


def unstarted(events: Iterable[Event], for_all: Collection[str]) -> int:
    """How many surprises have not started for everybody."""
    return sum(event.surprise and event.key not in for_all for event in events)
