"""Who sees whom: judges are shared out to squads so that it is fair, sound and as even as can be.

Always: nobody sees a squad they are tied to; every squad is seen by its number of judges; loads differ by at most one;
what is fixed stays; and a chain of common judges links all squads, so that they can be compared. Found by integer
programming (a chain that breaks becomes one more condition, until none does). Within that, any two judges meet as
evenly as can be (`bot.rules.judging.even_out_panel`). If it cannot be done, the answer is the condition
that stands in the way.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from bot.rules.judging.connectedness import Part, Seen, parts, weak_links


@dataclass(frozen=True)
class Problem:
    """Whom to share out. `Seen` is (squad, judge), both by id."""

    squads: tuple[int, ...]
    judges: tuple[int, ...]
    per_squad: int
    """How many judges see each squad."""
    tied: frozenset[Seen] = frozenset()
    """Never."""
    fixed: frozenset[Seen] = frozenset()
    """Always: set by the coach, or begun already."""

    @property
    def seats(self) -> int:
        """How many there are to give."""
        return len(self.squads) * self.per_squad

    @property
    def least(self) -> int:
        """The smallest even share of a judge."""
        return self.seats // len(self.judges)

    @property
    def most(self) -> int:
        """The largest even share of a judge."""
        return -(-self.seats // len(self.judges))

    def free(self, squad: int) -> tuple[int, ...]:
        """The judges who may see a squad."""
        return tuple(judge for judge in self.judges if (squad, judge) not in self.tied)


@dataclass(frozen=True)
class Panel:
    """Who sees whom, and what can be said about it."""

    seats: frozenset[Seen]
    loads: Mapping[int, int]
    """By judge: how many squads."""
    meetings: Mapping[tuple[int, int], int]
    """By pair of judges: how many squads both see."""
    shared: Mapping[tuple[int, int], int]
    """By pair of squads: how many judges see both."""
    parts: tuple[Part, ...]
    """Squads that can be compared with each other; one part when all can."""
    hinges: tuple[int, ...]
    """Judges without whom the squads would fall into parts."""

    @property
    def balanced(self) -> bool:
        """Whether this is a balanced block design: every two judges, or every two squads, meet equally often.

        All judges see as many squads, and all squads are seen by as many judges (F. Yates 1936).
        """
        sizes = Counter(squad for squad, _ in self.seats)
        even = 1 in (len(set(self.meetings.values())), len(set(self.shared.values())))
        return even and all(len(set(each.values())) == 1 for each in (self.loads, sizes)) and len(self.parts) == 1


@dataclass(frozen=True)
class Obstacle:
    """Why judges cannot be shared out: the condition that stands in the way, with whom it concerns."""

    kind: Literal[
        "no-squads",
        "no-judges",
        "few-judges",
        "squad-tied",
        "fixed-tied",
        "fixed-many",
        "judge-tied",
        "judge-full",
        "squads-short",
        "judges-short",
        "few-seats",
        "apart",
    ]
    squads: tuple[int, ...] = ()
    judges: tuple[int, ...] = ()
    have: int = 0
    """What there is of what is needed: judges of a squad, squads of a judge, or seats."""
    need: int = 0


def describe(squads: Iterable[int], judges: Iterable[int], seats: Iterable[Seen]) -> Panel:
    """What can be said about any seating, computed or set by hand."""
    kept = frozenset(seats)
    by_judge = {judge: {squad for squad, other in kept if other == judge} for judge in sorted(judges)}
    by_squad = {squad: {judge for other, judge in kept if other == squad} for squad in sorted(squads)}
    linked = parts(kept)
    lonely = [Part((squad,), ()) for squad, seen_by in by_squad.items() if not seen_by]
    return Panel(
        seats=kept,
        loads={judge: len(seen) for judge, seen in by_judge.items()},
        meetings={(one, two): len(by_judge[one] & by_judge[two]) for one, two in combinations(by_judge, 2)},
        shared={(one, two): len(by_squad[one] & by_squad[two]) for one, two in combinations(by_squad, 2)},
        parts=(*linked, *lonely),
        hinges=weak_links(kept).judges,
    )


def assign(problem: Problem) -> Panel | Obstacle:
    """The panel of a problem, the same each time it is asked; or what stands in the way."""
    from bot.rules.judging.even_out_panel import even_out

    plain = _plain_obstacle(problem)
    if plain is not None:
        return plain
    found = _seating(problem)
    if isinstance(found, Obstacle):
        return found
    seats = even_out(found, problem.judges, problem.squads, problem.tied, problem.fixed)
    return describe(problem.squads, problem.judges, seats)


def _plain_obstacle(problem: Problem) -> Obstacle | None:
    """What can be seen by looking at one squad or one judge at a time."""
    if not problem.squads or not problem.judges:
        return Obstacle("no-judges" if problem.squads else "no-squads")
    if problem.per_squad > len(problem.judges):
        return Obstacle("few-judges", have=len(problem.judges), need=problem.per_squad)
    clash = sorted(problem.fixed & problem.tied)
    if clash:
        return Obstacle("fixed-tied", squads=(clash[0][0],), judges=(clash[0][1],))
    for squad in problem.squads:
        free = problem.free(squad)
        if len(free) < problem.per_squad:
            return Obstacle("squad-tied", squads=(squad,), judges=free, have=len(free), need=problem.per_squad)
        fixed = tuple(judge for other, judge in sorted(problem.fixed) if other == squad)
        if len(fixed) > problem.per_squad:
            return Obstacle("fixed-many", squads=(squad,), judges=fixed, have=len(fixed), need=problem.per_squad)
    for judge in problem.judges:
        open_to = tuple(squad for squad in problem.squads if (squad, judge) not in problem.tied)
        if len(open_to) < problem.least:
            return Obstacle("judge-tied", squads=open_to, judges=(judge,), have=len(open_to), need=problem.least)
        held = tuple(squad for squad, other in sorted(problem.fixed) if other == judge)
        if len(held) > problem.most:
            return Obstacle("judge-full", squads=held, judges=(judge,), have=len(held), need=problem.most)
    return None


def _seating(problem: Problem) -> frozenset[Seen] | Obstacle:
    """Any seating that keeps every condition, or the one that stands in the way."""
    # A chain needs as many seats as a tree has edges: one less than there are squads and judges in it.
    needed = len(problem.squads) + min(len(problem.judges), problem.seats) - 1
    if problem.seats < needed:
        return Obstacle("few-seats", have=problem.seats, need=needed)
    chains: list[Part] = []
    while True:
        seats = _solve(problem, chains)
        if seats is None:
            return Obstacle("apart", chains[0].squads, chains[0].judges) if chains else _short(problem)
        linked = parts(seats)
        if len(linked) == 1:
            return seats
        chains = [*linked, *chains]


def _solve(problem: Problem, chains: Iterable[Part]) -> frozenset[Seen] | None:
    """One integer program: a variable for each squad and judge, 1 where the judge sees the squad."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    squads, judges = problem.squads, problem.judges
    pairs = [(squad, judge) for squad in squads for judge in judges]
    rows, least, most = [], [], []

    def require(belongs: Iterable[bool], at_least: float, at_most: float) -> None:
        rows.append(np.fromiter(belongs, dtype=float, count=len(pairs)))
        least.append(at_least)
        most.append(at_most)

    for wanted in squads:
        require((squad == wanted for squad, _ in pairs), problem.per_squad, problem.per_squad)
    for wanted in judges:
        require((judge == wanted for _, judge in pairs), problem.least, problem.most)
    for part in chains:
        inside, own = set(part.squads), set(part.judges)
        require(((squad in inside) != (judge in own) for squad, judge in pairs), 1, np.inf)
    solved = milp(
        c=np.zeros(len(pairs)),
        constraints=LinearConstraint(np.array(rows), np.array(least), np.array(most)),
        integrality=np.ones(len(pairs)),
        bounds=Bounds(
            np.array([float(pair in problem.fixed) for pair in pairs]),
            np.array([float(pair not in problem.tied) for pair in pairs]),
        ),
    )
    if solved.x is None:
        return None
    return frozenset(pair for pair, taken in zip(pairs, solved.x, strict=True) if taken > 0.5)


def _short(problem: Problem) -> Obstacle:
    """The squads that stay short of judges, or the judges who stay short of squads, by maximum flow and minimum cut.

    A seating exists if and only if the squads can be filled while no judge has more than the largest even share, and
    every judge can be given the smallest one while no squad has too many (N. S. Mendelsohn and A. L. Dulmage 1958).
    """
    reached, near = filled_seats(problem, problem.most)
    if reached < problem.seats:
        short = tuple(squad for squad in problem.squads if ("squad", squad) in near)
        full = tuple(judge for judge in problem.judges if ("judge", judge) in near)
        return Obstacle("squads-short", short, full, have=reached, need=problem.seats)
    reached, near = filled_seats(problem, problem.least)
    short = tuple(judge for judge in problem.judges if ("judge", judge) not in near)
    return Obstacle("judges-short", (), short, have=reached, need=problem.least * len(problem.judges))


Node = tuple[str, int]


def filled_seats(problem: Problem, cap: int) -> tuple[int, set[Node]]:
    """How many seats can be filled when no judge sees over `cap` squads, and the nodes on the source's side of the cut.

    Fixed seats are included (`tests/rules/reference/C8a.json`).
    """
    import numpy as np
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import maximum_flow

    of_squad = Counter(squad for squad, _ in problem.fixed)
    of_judge = Counter(judge for _, judge in problem.fixed)
    nodes: list[Node] = [("source", 0), ("sink", 0)]
    nodes += [("squad", squad) for squad in problem.squads]
    nodes += [("judge", judge) for judge in problem.judges]
    place = {node: number for number, node in enumerate(nodes)}
    capacity = np.zeros((len(nodes), len(nodes)), dtype=np.int32)
    for squad in problem.squads:
        capacity[0, place["squad", squad]] = problem.per_squad - of_squad[squad]
        for judge in problem.free(squad):
            if (squad, judge) not in problem.fixed:
                capacity[place["squad", squad], place["judge", judge]] = 1
    for judge in problem.judges:
        capacity[place["judge", judge], 1] = max(cap - of_judge[judge], 0)
    result = maximum_flow(csr_array(capacity), 0, 1)
    residual = capacity - result.flow.toarray()
    near, waiting = {0}, [0]
    while waiting:
        fresh = set(np.nonzero(residual[waiting.pop()] > 0)[0].tolist()) - near
        near |= fresh
        waiting += fresh
    filled = sum(min(cap, of_judge[judge]) for judge in problem.judges)
    return int(result.flow_value) + filled, {nodes[number] for number in near}
