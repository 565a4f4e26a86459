"""Which squads a panel can compare at all: the graph of judges and squads, in which every sheet is an edge.

Differences between squads can be estimated only where a chain of common judges links them (R. C. Bose 1949; Eccleston
and Hedayat 1974).
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import count
from typing import Literal

Seen = tuple[int, int]
"""One sheet: squad and judge."""
_Node = tuple[Literal["squad", "judge"], int]


@dataclass(frozen=True, slots=True)
class Part:
    """Squads that can be compared with each other, and the judges who link them."""

    squads: tuple[int, ...]
    judges: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WeakLinks:
    """Single sheets, and single judges, without which the panel would fall into more parts.

    The only sheet of a squad, or of a judge, is such a sheet too.
    """

    sheets: tuple[Seen, ...]
    judges: tuple[int, ...]


def parts(sheets: Iterable[Seen]) -> tuple[Part, ...]:
    """The parts of the panel, in the order of their smallest squad; one part when the panel is connected."""
    judges_of, squads_of = _by_squad_and_judge(sheets)
    found: list[Part] = []
    unseen = set(judges_of)
    met: set[int] = set()
    for start in sorted(judges_of):
        if start not in unseen:
            continue
        unseen.discard(start)
        squads, waiting = [start], [start]
        judges: list[int] = []
        while waiting:
            fresh = judges_of[waiting.pop()] - met
            met |= fresh
            judges += fresh
            for judge in fresh:
                reached = squads_of[judge] & unseen
                unseen -= reached
                squads += reached
                waiting += reached
        found.append(Part(squads=tuple(sorted(squads)), judges=tuple(sorted(judges))))
    return tuple(found)


def weak_links(sheets: Iterable[Seen]) -> WeakLinks:
    """Bridges, and judges who are cut points, of the panel's graph (Hopcroft and Tarjan 1973, without recursion)."""
    neighbours = _neighbours(sheets)
    found_at: dict[_Node, int] = {}
    lowest: dict[_Node, int] = {}
    bridges: list[Seen] = []
    cuts: set[_Node] = set()
    clock = count()
    for root in sorted(neighbours):
        if root in found_at:
            continue
        found_at[root] = lowest[root] = next(clock)
        branches = 0
        path = [(root, root, iter(sorted(neighbours[root])))]
        while path:
            node, parent, rest = path[-1]
            step = next(rest, None)
            if step is None:
                path.pop()
                if not path:
                    break
                lowest[parent] = min(lowest[parent], lowest[node])
                if lowest[node] > found_at[parent]:
                    bridges.append(_sheet(parent, node))
                if parent == root:
                    branches += 1
                elif lowest[node] >= found_at[parent]:
                    cuts.add(parent)
            elif step not in found_at:
                found_at[step] = lowest[step] = next(clock)
                path.append((step, node, iter(sorted(neighbours[step]))))
            elif step != parent:
                lowest[node] = min(lowest[node], found_at[step])
        if branches > 1:
            cuts.add(root)
    return WeakLinks(sheets=tuple(sorted(bridges)), judges=_of_kind("judge", cuts))


def shared_squads(sheets: Iterable[Seen]) -> Mapping[int, int]:
    """For each judge, the number of squads that at least one other judge saw too."""
    judges_of, squads_of = _by_squad_and_judge(sheets)
    return {judge: sum(len(judges_of[squad]) > 1 for squad in squads_of[judge]) for judge in sorted(squads_of)}


def _by_squad_and_judge(sheets: Iterable[Seen]) -> tuple[dict[int, set[int]], dict[int, set[int]]]:
    """The judges of each squad, and the squads of each judge."""
    judges_of: dict[int, set[int]] = defaultdict(set)
    squads_of: dict[int, set[int]] = defaultdict(set)
    for squad, judge in sheets:
        judges_of[squad].add(judge)
        squads_of[judge].add(squad)
    return judges_of, squads_of


def _neighbours(sheets: Iterable[Seen]) -> dict[_Node, set[_Node]]:
    neighbours: dict[_Node, set[_Node]] = defaultdict(set)
    for squad, judge in sheets:
        neighbours["squad", squad].add(("judge", judge))
        neighbours["judge", judge].add(("squad", squad))
    return dict(neighbours)


def _of_kind(kind: str, nodes: Iterable[_Node]) -> tuple[int, ...]:
    return tuple(sorted(number for what, number in nodes if what == kind))


def _sheet(one: _Node, other: _Node) -> Seen:
    return (one[1], other[1]) if one[0] == "squad" else (other[1], one[1])
