"""The order of squads with exact totals: competition ranks (1, 2, 2, 4), tie-breaks in order, ties that remain."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from bot.rules.scoring.standings_records import Straddle, Tie, TieStep

Group = tuple[int, ...]
Ordered = TypeVar("Ordered", Fraction, tuple[int, Fraction])


@dataclass(frozen=True, slots=True)
class Merit:
    """How one squad stands in a tie-break: `order` compares (more is better), `value` is what is shown."""

    order: tuple[int, Fraction]
    value: Fraction | None


Merits = Callable[[], Mapping[int, Merit]]
"""Asked only when there is a tie; squads that it does not name cannot be compared by it."""


@dataclass(frozen=True, slots=True)
class Ranking:
    """Groups of squads that share a rank, best first, and how ties were dealt with."""

    groups: tuple[Group, ...]
    ties: tuple[Tie, ...]

    @property
    def ranks(self) -> dict[int, int]:
        """Squad to competition rank."""
        return {squad: rank for rank, group in _ranked(self.groups) for squad in group}

    def among(self, squads: frozenset[int]) -> "Ranking":
        """The same order of these squads alone."""
        groups = (tuple(squad for squad in group if squad in squads) for group in self.groups)
        return Ranking(tuple(group for group in groups if group), ())

    def placed(self, places: int) -> tuple[int, ...]:
        """Squads that surely hold one of the places, best first."""
        return tuple(
            squad for rank, group in _ranked(self.groups) if rank + len(group) - 1 <= places for squad in group
        )

    def straddle(self, places: int) -> Straddle | None:
        """The remaining tie in which more squads share a rank than there are places left."""
        for rank, group in _ranked(self.groups):
            if rank <= places < rank + len(group) - 1:
                return Straddle(squads=group, rank=rank, places_left=places - rank + 1)
        return None


def rank(totals: Mapping[int, Fraction], breakers: Sequence[tuple[str, Merits]]) -> Ranking:
    """Order squads by total, then by each tie-break in turn. Squads still equal share a rank, in the order given.

    A tie-break never reaches beyond squads whose totals are exactly equal. Where one squad of a tied group has no
    merit in it (excused there, or no run-off yet), it decides nothing for that group.
    """
    groups: list[Group] = []
    ties: list[Tie] = []
    for place, group in _ranked(_by_value(totals, totals.__getitem__)):
        if len(group) == 1:
            groups.append(group)
            continue
        tie = _break(group, place, breakers)
        ties.append(tie)
        groups.extend(tie.steps[-1].groups if tie.steps else [group])
    return Ranking(tuple(groups), tuple(ties))


def _break(tied: Group, place: int, breakers: Sequence[tuple[str, Merits]]) -> Tie:
    groups: list[Group] = [tied]
    steps: list[TieStep] = []
    for by, ask in breakers:
        if all(len(group) == 1 for group in groups):
            break
        merits = ask()
        compared = {group for group in groups if len(group) > 1 and all(squad in merits for squad in group)}
        if not compared:
            continue
        orders = {squad: merits[squad].order for group in compared for squad in group}
        groups = [
            part
            for group in groups
            for part in (_by_value(group, orders.__getitem__) if group in compared else [group])
        ]
        steps.append(TieStep(by=by, values={squad: merits[squad].value for squad in orders}, groups=tuple(groups)))
    left = tuple(group for group in groups if len(group) > 1)
    return Tie(squads=tied, rank=place, steps=tuple(steps), left=left)


def _by_value(squads: Iterable[int], value_of: Callable[[int], Ordered]) -> list[Group]:
    """Groups of equal squads, the highest value first, keeping the given order within a group."""
    groups: dict[Ordered, list[int]] = {}
    for squad in squads:
        groups.setdefault(value_of(squad), []).append(squad)
    return [tuple(groups[value]) for value in sorted(groups, reverse=True)]


def _ranked(groups: Sequence[Group]) -> Iterable[tuple[int, Group]]:
    place = 1
    for group in groups:
        yield place, group
        place += len(group)
