"""The next step to the result, as the filled button under the standings: what a coach is led to first."""

from typing import Literal

from bot.rules.scoring.missing_scores import ATTEMPTS
from bot.rules.scoring.standings_records import Standings
from bot.rules.scoring.tie_breaks import has_run_offs
from storage.records.plan import Plan
from storage.records.tryout import State

NextStep = Literal["remind", "plan", "table", "judges", "close judging", "announce"]


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
