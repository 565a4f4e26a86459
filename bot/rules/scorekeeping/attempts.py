"""Attempts: which one is next, how many there may be, and when a run-off is one; who may run off."""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scoring.standings_records import Tie
from bot.rules.scoring.tie_breaks import can_be_run_off
from storage.records.plan_measures import Measure


def check_next(number: int, made: int, allowed: int | None, squad: str) -> None:
    """An attempt follows the last one that was made, and the plan gives so many; None: it is a run-off.

    Raises Refusal: `attempt_gone`, `attempts_used` (squad, most).
    """
    if number > made + 1:
        raise Refusal(TableReason.ATTEMPT_GONE)
    if allowed is not None and number > allowed:
        raise Refusal(TableReason.ATTEMPTS_USED, squad=squad, most=allowed)


def which_attempt(made: int, run_offs: int, allowed: int) -> tuple[int, bool]:
    """The number of the attempt that comes next, and whether it is a run-off: once all that the plan gives are made."""
    return (made + 1, False) if made < allowed else (run_offs + 1, True)


def is_done(made: int, allowed: int, absent: bool) -> bool:
    """Whether nothing more is awaited of a squad at a measure: all its attempts are made, or it does not take part."""
    return absent or made >= allowed


def has_more(number: int, run_off: bool, allowed: int) -> bool:
    """Whether the plan gives the squad another attempt after this one."""
    return not run_off and number < allowed


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


def check_run_off_not_early(order_hidden: bool) -> None:
    """Nobody runs off while the order is hidden: that two are equal would say where they stand.

    Raises Refusal: `run_off_later`.
    """
    if order_hidden:
        raise Refusal(TableReason.RUN_OFF_LATER)


def run_off_comes_into_question(made: int, allowed: int, measure: Measure) -> bool:
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
