"""Legal squads proposed for students without one: an exact search that keeps private wishes as far as can be.

Within one section, in this order: as few students as possible stay without a squad; as few squads as possible stay too
small; as few "rather not with" as possible are broken; as many "with" as possible are kept. Solved by HiGHS
(`scipy.optimize.milp`) as one program after the other, each holding what the one before has reached. A new squad is
named by its first member, so that the same split is met only once ("asymmetric representatives", Campelo and others
2008, from memory)."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

PATIENCE_S = 6.0
"""Seconds for one program; only a section far larger than any class needs them."""


MOST = 60
"""Students without a squad, of one section, for whom squads are proposed at once."""


@dataclass(frozen=True)
class Open:
    """A squad of the section: its members, and how many it may and should have."""

    id: int
    members: tuple[int, ...]


@dataclass(frozen=True)
class Wish:
    """One student wants to be with another, or rather not."""

    student: int
    other: int
    together: bool


@dataclass(frozen=True)
class Score:
    """How good a split is; smaller is better, in this order."""

    alone: int
    small: int
    broken: int
    missed: int

    @property
    def order(self) -> tuple[int, int, int, int]:
        """What is compared."""
        return self.alone, self.small, self.broken, self.missed


@dataclass(frozen=True)
class Split:
    """A proposal for one section."""

    joins: Mapping[int, tuple[int, ...]]
    """Students by the squad that they would join."""
    founds: tuple[tuple[int, ...], ...]
    """Students of each new squad."""
    alone: tuple[int, ...]
    """Students for whom there is no legal place."""
    score: Score
    exact: bool = True
    """Whether nothing better exists; otherwise time ran out over the last wishes."""


def score_of(
    joins: Mapping[int, Sequence[int]],
    founds: Iterable[Sequence[int]],
    alone: Sequence[int],
    squads: Sequence[Open],
    wishes: Iterable[Wish],
    smallest: int,
) -> Score:
    """How good a split is; wishes count where at least one of the two is placed by it."""
    groups = [(*squad.members, *joins.get(squad.id, ())) for squad in squads] + [tuple(group) for group in founds]
    where = {student: number for number, group in enumerate(groups) for student in group}
    new = {student for students in joins.values() for student in students}
    new |= {student for group in groups[len(squads) :] for student in group} | set(alone)
    broken = missed = 0
    for wish in set(wishes):
        if wish.student not in new and wish.other not in new:
            continue
        met = where.get(wish.student, -1) == where.get(wish.other, -2)
        broken += not wish.together and met
        missed += wish.together and not met
    small = sum(0 < len(group) < smallest for group in groups[: len(squads)])
    return Score(len(alone), small, broken, missed)


def propose(
    students: Sequence[int], squads: Sequence[Open], wishes: Iterable[Wish], smallest: int, largest: int
) -> Split:
    """The best legal split of the students of one section into its squads with room and into new ones.

    Students beyond the first `MOST` wait for the next proposal.
    """
    waiting, late = list(students[:MOST]), tuple(students[MOST:])
    known = tuple(sorted(set(wishes), key=lambda wish: (wish.student, wish.other, wish.together)))
    if not waiting:
        return Split({}, (), late, score_of({}, (), late, squads, known, smallest))
    model = _Model(waiting, squads, known, smallest, largest)
    chosen, exact = model.solve()
    joins: dict[int, tuple[int, ...]] = {}
    groups: dict[int, list[int]] = {}
    alone = []
    for place, student in enumerate(waiting):
        target = chosen[place]
        if target is None:
            alone.append(student)
        elif target < len(squads):
            squad = squads[target].id
            joins[squad] = (*joins.get(squad, ()), student)
        else:
            groups.setdefault(target, []).append(student)
    founds = tuple(tuple(group) for _, group in sorted(groups.items()))
    left = (*alone, *late)
    return Split(joins, founds, left, score_of(joins, founds, left, squads, known, smallest), exact)


class _Model:
    """The variables and rows of the programs for one section."""

    def __init__(
        self, students: Sequence[int], squads: Sequence[Open], wishes: Sequence[Wish], smallest: int, largest: int
    ) -> None:
        self.students, self.squads, self.wishes = students, squads, wishes
        self.smallest, self.largest = smallest, largest
        self.rows: list[tuple[dict[int, float], float, float]] = []
        self.costs: list[dict[int, float]] = [{}, {}, {}, {}]
        self.count = 0
        self.seat: dict[tuple[int, int], int] = {}
        self._seats()
        self._sizes()
        self._wishes()

    def _variable(self) -> int:
        self.count += 1
        return self.count - 1

    def _seats(self) -> None:
        """Each student in one squad at most; a new squad number k is named by student k, its first member."""
        squads, inf = len(self.squads), float("inf")
        for place in range(len(self.students)):
            for target in (*range(squads), *(squads + first for first in range(place + 1))):
                self.seat[place, target] = self._variable()
            mine = {self.seat[place, target]: 1.0 for target in self._targets(place)}
            self.rows.append((mine, 0, 1))
            for variable in mine:
                self.costs[0][variable] = -1.0
            for first in range(place):
                self.rows.append(({self.seat[place, squads + first]: 1, self.seat[first, squads + first]: -1}, -inf, 0))

    def _targets(self, place: int) -> list[int]:
        squads = len(self.squads)
        return [*range(squads), *(squads + first for first in range(place + 1))]

    def _sizes(self) -> None:
        inf = float("inf")
        for target, squad in enumerate(self.squads):
            into = {self.seat[place, target]: 1.0 for place in range(len(self.students))}
            self.rows.append((into, 0, max(0, self.largest - len(squad.members))))
            lacks = self.smallest - len(squad.members)
            if lacks > 0:
                small = self._variable()
                self.costs[1][small] = 1.0
                if squad.members:
                    self.rows.append(({**into, small: float(lacks)}, lacks, inf))
                    continue
                # A squad without members yet is too small only once somebody is in it.
                used = self._variable()
                self.rows.append(({**into, small: float(lacks), used: -float(lacks)}, 0, inf))
                self.rows += [({used: 1, seat: -1}, 0, inf) for seat in into]
        for first in range(len(self.students)):
            target = len(self.squads) + first
            into = {self.seat[place, target]: 1.0 for place in range(first, len(self.students))}
            named = self.seat[first, target]
            self.rows.append(({**into, named: into[named] - self.smallest}, 0, inf))
            self.rows.append(({**into, named: into[named] - self.largest}, -inf, 0))

    def _wishes(self) -> None:
        places = {student: place for place, student in enumerate(self.students)}
        seated = {student: target for target, squad in enumerate(self.squads) for student in squad.members}
        for wish in self.wishes:
            one, other = places.get(wish.student), places.get(wish.other)
            if one is not None and other is not None and one != other:
                self._pair(min(one, other), max(one, other), wish.together)
            elif (one is None) != (other is None):
                place = one if one is not None else other
                friend = seated.get(wish.other if one is not None else wish.student)
                assert place is not None
                if friend is not None:
                    cost = self.costs[3] if wish.together else self.costs[2]
                    variable = self.seat[place, friend]
                    cost[variable] = cost.get(variable, 0.0) + (-1.0 if wish.together else 1.0)

    def _pair(self, one: int, other: int, together: bool) -> None:
        """Two students without a squad: kept in one squad, or apart."""
        inf = float("inf")
        for target in self._targets(one):
            a, b, met = self.seat[one, target], self.seat[other, target], self._variable()
            if together:
                self.rows += [({met: 1, a: -1}, -inf, 0), ({met: 1, b: -1}, -inf, 0)]
                self.costs[3][met] = -1.0
            else:
                self.rows.append(({a: 1, b: 1, met: -1}, -inf, 1))
                self.costs[2][met] = 1.0

    def solve(self) -> tuple[list[int | None], bool]:
        """Where each student goes (None for nowhere), and whether nothing better exists."""
        exact, found = True, None
        for cost in self.costs:
            if found is not None and not cost:
                continue
            solution, proven = self._minimise(cost)
            if solution is None:
                # Time ran out before a better one was seen: what the earlier programs reached stands.
                return self._read(found or [0.0] * self.count), False
            found, exact = solution, exact and proven
            reached = sum(weight * solution[variable] for variable, weight in cost.items())
            self.rows.append((cost, -float("inf"), round(reached)))
        assert found is not None
        return self._read(found), exact

    def _minimise(self, cost: Mapping[int, float]) -> tuple[list[float] | None, bool]:
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        objective = np.zeros(self.count)
        for variable, weight in cost.items():
            objective[variable] = weight
        entries = [(row, column, value) for row, (line, _, _) in enumerate(self.rows) for column, value in line.items()]
        row, column, value = zip(*entries, strict=True)
        matrix = csr_array((value, (row, column)), shape=(len(self.rows), self.count))
        limits = LinearConstraint(matrix, [line[1] for line in self.rows], [line[2] for line in self.rows])
        result = milp(
            objective,
            constraints=limits,
            bounds=Bounds(0, 1),
            integrality=np.ones(self.count),
            options={"time_limit": PATIENCE_S, "mip_rel_gap": 0},
        )
        return (None, False) if result.x is None else ([float(one) for one in result.x], result.status == 0)

    def _read(self, found: Sequence[float]) -> list[int | None]:
        chosen: list[int | None] = []
        for place in range(len(self.students)):
            into = [target for target in self._targets(place) if found[self.seat[place, target]] > 0.5]
            chosen.append(into[0] if into else None)
        return chosen
