"""What is missing before everybody can be ranked: which judges owe sheets, in which order, and what to do next."""

from collections import Counter
from collections.abc import Mapping
from typing import Literal

from bot.rules.scoring.standings_records import Standings
from bot.rules.scoring.tie_breaks import has_run_offs
from storage.records.plan import Plan
from storage.records.tryout import State

ATTEMPTS = ("no_attempt", "too_few_attempts")
"""Gaps that are filled at the table."""
NextStep = Literal["remind", "plan", "table", "judges", "close judging", "announce"]


def owing_judges(standings: Standings, numbers: Mapping[int, int]) -> list[tuple[int, int]]:
    """Number of each judge who owes a sheet that a squad waits for, with how many, in order of the numbers.

    `numbers` are those of the judges, by id.
    """
    owed: Counter[int] = Counter()
    for _, gap in standings.gaps:
        if gap.kind == "open_sheet" and gap.judge_id is not None and gap.judge_id in numbers:
            owed[numbers[gap.judge_id]] += 1
    return sorted(owed.items())


def next_step(standings: Standings, plan: Plan, state: State, owing: bool) -> NextStep:
    """The most useful thing to do now; `owing`: some judges owe a sheet."""
    if owing and state != "archived":
        return "remind"
    tied = state != "judging" and standings.straddle is not None
    if tied and not has_run_offs(plan):
        return "plan"
    if tied or any(gap.kind in ATTEMPTS for _, gap in standings.gaps):
        return "table"
    if standings.gaps:
        return "judges"
    return "close judging" if state == "judging" else "announce"
