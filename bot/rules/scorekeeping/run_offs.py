"""Which squads may run off: those in a tie that the plan's own tie-breaks did not break."""

from collections.abc import Iterable, Sequence

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
