"""Who wins the places: overall, or a number for each group of sections; from a minimum total on, if one is set.

The order of all squads is one and the same (see `ranking`); a contest looks at its own squads in that order.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from bot.rules.scoring.ranking import Ranking
from bot.rules.scoring.standings_records import Contest, Straddle
from storage.records.people import Squad
from storage.records.plan import Plan


@dataclass(frozen=True, slots=True)
class Places:
    """How the places are held."""

    held: tuple[int, ...]
    """Squads that surely hold one, best first."""
    straddles: tuple[Straddle, ...]
    """For each contest, in the plan's order, the tie for its last places that must be settled, if there is one."""


def is_plain(plan: Plan) -> bool:
    """Whether all squads compete for all places and no minimum is set, so that the order alone decides."""
    return not plan.place_groups and plan.qualify is None


def contests(plan: Plan, squads: Iterable[Squad], totals: Mapping[int, Fraction]) -> tuple[Contest, ...]:
    """The contests of a plan with the ranked squads that may win in them: of their sections, not below the minimum."""
    least = None if plan.qualify is None else Fraction(plan.qualify)
    may_win = [squad for squad in squads if squad.id in totals and (least is None or totals[squad.id] >= least)]
    if not plan.place_groups:
        return (Contest((), plan.places, frozenset(squad.id for squad in may_win)),)
    return tuple(
        Contest(
            group.sections, group.places, frozenset(squad.id for squad in may_win if squad.section in group.sections)
        )
        for group in plan.place_groups
    )


def share_out(ranking: Ranking, among: Iterable[Contest]) -> Places:
    """Who holds the places of the contests by this order."""
    held: set[int] = set()
    straddles: list[Straddle] = []
    for contest in among:
        own = ranking.among(contest.squads)
        held |= set(own.placed(contest.places))
        if (straddle := own.straddle(contest.places)) is not None:
            straddles.append(straddle)
    return Places(tuple(squad for group in ranking.groups for squad in group if squad in held), tuple(straddles))
