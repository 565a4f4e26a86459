"""Seasons of generated plans: whatever `plan check` accepts is played to the end, with a few squads and judges."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, Phase, given, seed, settings

from bot.rules.plan.plan_problems import BadPlan
from bot.rules.plan.read_plan import read_plan, write_plan
from deploy.rehearsal.season.play import play
from deploy.rehearsal.season.season_settings import script
from storage.records.plan import Plan
from storage.records.plan_measures import Rubric
from tests.rules.plan_strategies import wide_plans

LONGEST = 3
"""Days of the window; a longer one is the same day again."""
JUDGING_CLOSES_AFTER = timedelta(days=14)
"""After the brief, where the plan names a moment at all."""
SQUADS, JUDGES = 2, 2
"""So few of each; more judges where the plan lets more of them see each squad."""


@dataclass(frozen=True)
class Ending:
    """How the season of one plan ended; `why` is empty where it came to its end."""

    number: int
    seconds: float
    why: str
    plan: str


def generated(count: int, number: int) -> list[str]:
    """So many plan files that can be read, all different.

    They are the same for the same numbers and the same version of the program: hypothesis borrows words from the code.
    """
    found: dict[str, None] = {}

    @seed(number)
    @settings(
        max_examples=2 * count,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(wide_plans())
    def collect(plan: Plan) -> None:
        try:
            found[write_plan(read_plan(write_plan(_short(plan))))] = None
        except BadPlan:
            return

    collect()
    return list(found)[:count]


def _short(plan: Plan) -> Plan:
    """The same plan with a window of a few days."""
    days = 1 + (plan.calendar.days - 1) % LONGEST
    practice = plan.practice
    if practice is not None:
        until = None if practice.until_day is None else min(practice.until_day, days)
        practice = practice.model_copy(update={"from_day": min(practice.from_day, until or days), "until_day": until})
    closes = None if plan.calendar.judging_closes is None else plan.calendar.brief + JUDGING_CLOSES_AFTER
    calendar = plan.calendar.model_copy(update={"days": days, "judging_closes": closes})
    return plan.model_copy(update={"calendar": calendar, "practice": practice})


def endings(count: int, number: int, first: int = 0) -> Iterator[Ending]:
    """Play the seasons of these plans one after the other, from a place in the list on."""
    for place, text in list(enumerate(generated(count, number)))[first:]:
        began = time.monotonic()
        with TemporaryDirectory() as folder:
            why = _play(text, place, Path(folder))
        yield Ending(place, time.monotonic() - began, why, text)


def _play(text: str, number: int, out: Path) -> str:
    wanted = [one.judges_per_squad or 0 for one in _rubrics(read_plan(text))]
    small = replace(script(number, text.encode()), squads=SQUADS, judges=max(JUDGES, *wanted, 0))
    played = asyncio.run(play(small, out, lambda _: None, to_the_end=False))
    if played.broke_off:
        return played.broke_off
    if len(played.standings) < SQUADS - 1:
        return f"only {len(played.standings)} squads are in the standings"
    wrong = [*played.stage.lost, *played.stage.doubled(), *played.stage.broken]
    if wrong:
        return f"lost, doubled or otherwise than promised: {wrong[0]}"
    faults = [line for line in (out / "bot.log").read_text("utf-8").splitlines() if " fault " in line]
    return f"the bot's log says {faults[0]}" if faults else ""


def _rubrics(plan: Plan) -> Iterator[Rubric]:
    return (measure for event in plan.events for measure in event.measures if isinstance(measure, Rubric))


def report(count: int, number: int, minutes: float, first: int = 0) -> int:
    """Play them, print each that did not come to its end, and how many did; 1 when there is one that did not.

    Where the time is up before the last one, the place from which to go on is named.
    """
    until, done, bad = time.monotonic() + 60 * minutes, 0, 0
    for ending in endings(count, number, first):
        done += 1
        if ending.why:
            bad += 1
            print(f"plan {ending.number}: {ending.why}\n{ending.plan}", flush=True)
        else:
            print(f"plan {ending.number}: to the end in {ending.seconds:.1f} s", flush=True)
        if time.monotonic() > until:
            break
    print(f"{done} generated plans were played, {done - bad} came to their end; the next one is --first {first + done}")
    return 1 if bad else 0
