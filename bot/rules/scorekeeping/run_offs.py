"""Who may run off, and when: squads in a tie that the plan's own tie-breaks did not break."""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scoring.standings_records import Tie


def may_run_off(squad: int, ties: Iterable[Tie]) -> bool:
    """Whether a squad is in a tie that the plan's own tie-breaks did not break, whatever a run-off has settled."""
    for tie in ties:
        if squad not in tie.squads:
            continue
        groups: Sequence[tuple[int, ...]] = (tie.squads,)
        for step in tie.steps:
            if not step.by.startswith("run-off"):
                groups = step.groups
        if any(squad in group and len(group) > 1 for group in groups):
            return True
    return False


def check_run_off(tied: bool, made: int, run_offs: int, allowed: int, squad: str) -> None:
    """Only squads in a tie run off.

    Raises Refusal: `attempts_used` (squad, most) where all attempts are made and no run-off ever was; `no_tie` (squad).
    """
    if tied:
        return
    if made >= allowed and not run_offs:
        raise Refusal(Reason.ATTEMPTS_USED, squad=squad, most=allowed)
    raise Refusal(Reason.NO_TIE, squad=squad)
