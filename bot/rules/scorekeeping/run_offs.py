"""Who may run off, and when: squads in a tie that the plan's own tie-breaks did not break."""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scoring.standings_records import Tie
from bot.rules.scoring.tie_breaks import can_be_run_off
from storage.records.plan_measures import Measure


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


def check_not_early(order_hidden: bool) -> None:
    """Nobody runs off while the order is hidden: that two are equal would say where they stand.

    Raises Refusal: `run_off_later`.
    """
    if order_hidden:
        raise Refusal(TableReason.RUN_OFF_LATER)


def comes_into_question(made: int, allowed: int, measure: Measure) -> bool:
    """Whether a tie is looked for: all attempts are made, at a measure that can be run off."""
    return made >= allowed and can_be_run_off(measure)


def check_run_off(tied: bool, made: int, run_offs: int, allowed: int, squad: str) -> None:
    """Only squads in a tie run off.

    Raises Refusal: `attempts_used` (squad, most) where all attempts are made and no run-off ever was; `no_tie` (squad).
    """
    if tied:
        return
    if made >= allowed and not run_offs:
        raise Refusal(TableReason.ATTEMPTS_USED, squad=squad, most=allowed)
    raise Refusal(TableReason.NO_TIE, squad=squad)
