"""A complete result: who is compared with whom, how sure the winner is, and whether harsh judges mattered."""

from collections.abc import Collection, Sequence
from typing import Literal

from bot.rules.analysis.judge_profiles import JudgeView
from bot.rules.analysis.judges_evened_out import Evened, holders, nobody_gains
from bot.rules.analysis.robustness import Firmness
from bot.rules.judging.judged_rubrics import is_judged
from bot.rules.scoring.standings_records import Row, Standings
from storage.records.plan import Plan

HowSure = Literal["same total", "within chance", "fairly", "very"]
Mattered = Literal["cannot tell", "nobody gains", "same", "other winner", "tie"]
"""What evening out harsh and lenient judges would do."""


def is_analysed(found: Standings, hidden: Collection[int]) -> bool:
    """Whether anything is said about how firm a result is: while something is missing or hidden it would mislead."""
    return not hidden and found.complete and bool(found.rows)


def mattered(plan: Plan, found: Standings, evened: Sequence[Evened], evened_standings: Standings) -> Mattered:
    """Whether it mattered that some judges mark harder than others."""
    if any(not one.fit.connected for one in evened):
        return "cannot tell"
    if nobody_gains(plan, evened):
        return "nobody gains"
    if holders(evened_standings) == holders(found):
        return "same"
    return "other winner" if evened_standings.placed and evened_standings.straddle is None else "tie"


def pair(found: Standings) -> tuple[Row, Row] | None:
    """The last squad that holds a place and the next one, which holds none.

    None while a run-off is due, where there is no next squad, and where places go by sections or from a minimum on.
    """
    last = len(found.placed)
    if found.straddle is not None or not found.plain or not 0 < last < len(found.rows):
        return None
    return found.rows[last - 1], found.rows[last]


def how_sure(plan: Plan, firm: Firmness) -> HowSure:
    """`very` only where nothing that can be tried changes the winner, and the gap is surely beyond chance."""
    near = firm.closeness
    if near is not None and near.gap == 0:
        return "same total"
    if near is not None and near.close:
        return "within chance"
    beyond_chance = near is not None and (near.clear or not is_judged(plan))
    unshaken = all(trial.changed is False or trial.refused for trial in firm.trials)
    return "very" if beyond_chance and unshaken else "fairly"


def marks_farthest(views: Collection[JudgeView]) -> JudgeView | None:
    """The judge who is named: who marks farthest from the average judge; None where nobody does so notably.

    Only of judges who can be compared (`JudgeView.is_compared`).
    """
    far = max((view for view in views if view.is_compared), key=lambda view: abs(view.severity), default=None)
    return far if far is not None and far.is_harsh_or_lenient else None


def moves_marks(views: Collection[JudgeView]) -> bool:
    """Whether evening out harsh and lenient judges moves any mark notably, also of judges who cannot be compared."""
    return any(view.is_harsh_or_lenient for view in views)


def chance_could(far: JudgeView, evened: Collection[Evened]) -> bool:
    """Whether chance alone could move the judge who is named so far, or nobody can tell."""
    about = next((one for one in evened if (one.event, one.measure) == (far.event, far.measure)), None)
    sure = None if about is None else about.reach(far.judge_id)
    return sure is None or abs(float(far.severity)) <= sure
