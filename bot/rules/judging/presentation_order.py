"""In which order judges meet their squads, so that going early or after a strong squad helps nobody.

Where every judge sees every squad: Williams squares (E. J. Williams 1949, Australian Journal of Scientific Research
A2:149-168): every squad stands once in every place, and every squad follows every other equally often; n orders for an
even number of squads, n orders and their reverses for an odd one.

Where not every judge sees every squad, no squad stands twice in one place, where that can be: a colouring of the graph
of judges and squads needs as many colours as its busiest node has seats (D. König 1916). On a balanced design with as
many squads as judges this is a Youden square. Then places are exchanged within a judge's order for as long as that
evens out how early each squad comes on the whole, or how often one squad follows another.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Mapping, Sequence
from itertools import combinations, pairwise

from bot.rules.judging.connectedness import Seen

_Node = tuple[str, int]


def williams(count: int) -> tuple[tuple[int, ...], ...]:
    """The balanced orders of 0 to `count` - 1: `count` of them, twice as many for an odd count above 1."""
    if count <= 1:
        return (tuple(range(count)),)
    first = [(step + 1) // 2 if step % 2 else (count - step // 2) % count for step in range(count)]
    rows = tuple(tuple((entry + shift) % count for entry in first) for shift in range(count))
    return rows if count % 2 == 0 else rows + tuple(row[::-1] for row in rows)


def order_of(number: int, count: int) -> tuple[int, ...]:
    """The order in which the judge with a number (from 1) meets `count` squads.

    Judges take an order and its reverse in turn, so that even two of them have no squad early on the whole.
    """
    rows = williams(count)
    half = len(rows) // 2
    turn = (number - 1) % len(rows)
    return rows[turn // 2 + (half if turn % 2 else 0)]


def places_of_all(judges: Mapping[int, int], squads: Sequence[int]) -> dict[Seen, int]:
    """The place of each squad for each judge, where everybody sees everybody; `judges` are numbers by id.

    Each judge has an order of their own, which stays the same when other judges come or go.
    """
    return {
        (squads[one], judge): place
        for judge, number in judges.items()
        for place, one in enumerate(order_of(number, len(squads)), start=1)
    }


def places(seats: Collection[Seen]) -> dict[Seen, int]:
    """The place, from 1, of each squad in its judge's order; `Seen` is (squad, judge)."""
    colours = _coloured(sorted(seats))
    rows: dict[int, list[int]] = defaultdict(list)
    for squad, judge in sorted(seats, key=lambda seat: (colours[seat], seat)):
        rows[judge].append(squad)
    evened = _Orders(rows).evened()
    return {(squad, judge): place for judge, row in evened.items() for place, squad in enumerate(row, start=1)}


def places_kept(wanted: Collection[Seen], places_now: Mapping[Seen, int], begun: bool) -> dict[Seen, int]:
    """The places once sheets are out: balanced before anything is begun; later they stay, and new squads come last."""
    if not begun:
        return places(wanted)
    order = dict(places_now)
    last: dict[int, int] = {}
    for (_, judge), place in order.items():
        last[judge] = max(place, last.get(judge, 0))
    for squad, judge in sorted(set(wanted) - order.keys()):
        order[squad, judge] = last[judge] = 1 + last.get(judge, 0)
    return order


def _coloured(seats: Sequence[Seen]) -> dict[Seen, int]:
    """A colour for each seat, so that those of one squad differ, and those of one judge, with as few as can be."""
    at: dict[_Node, dict[int, Seen]] = defaultdict(dict)
    for seat in seats:
        squad, judge = _ends(seat)
        here = _first_free(at[squad])
        there = _first_free(at[judge])
        _exchange(at, judge, here, there)
        at[squad][here] = at[judge][here] = seat
    return {seat: colour for held in at.values() for colour, seat in held.items()}


def _ends(seat: Seen) -> tuple[_Node, _Node]:
    return ("squad", seat[0]), ("judge", seat[1])


def _first_free(held: dict[int, Seen]) -> int:
    return next(colour for colour in range(len(held) + 1) if colour not in held)


def _exchange(at: dict[_Node, dict[int, Seen]], node: _Node, one: int, two: int) -> None:
    """Exchange two colours along the chain of seats that begins at a node with the first of them.

    Afterwards the node has no seat of colour `one`. The chain never ends at a squad without a seat of colour `one`,
    because squads are entered by that colour.
    """
    chain: list[tuple[Seen, int]] = []
    colour = one
    while colour in at[node]:
        seat = at[node][colour]
        chain.append((seat, colour))
        squad, judge = _ends(seat)
        node = squad if node == judge else judge
        colour = two if colour == one else one
    for seat, old in chain:
        for end in _ends(seat):
            if at[end].get(old) == seat:
                del at[end][old]
    for seat, old in chain:
        for end in _ends(seat):
            at[end][two if old == one else one] = seat


class _Orders:
    """The orders of all judges, with what is to be even about them."""

    def __init__(self, rows: dict[int, list[int]]) -> None:
        self.rows = rows
        self.stands = Counter((squad, place) for row in rows.values() for place, squad in enumerate(row))
        self.lean: Counter[int] = Counter()
        """By squad: twice the sum, over its judges, of how far its place is behind the middle."""
        for row in rows.values():
            for place, squad in enumerate(row):
                self.lean[squad] += 2 * place - (len(row) - 1)
        self.follows = Counter(pair for row in rows.values() for pair in pairwise(row))

    def evened(self) -> dict[int, list[int]]:
        """The orders after every exchange that helps."""
        while sum(self._improve(judge) for judge in sorted(self.rows)):
            pass
        return self.rows

    def _improve(self, judge: int) -> bool:
        helped = False
        for one, two in combinations(range(len(self.rows[judge])), 2):
            if self._gain(judge, one, two) < (0, 0, 0):
                self._swap(judge, one, two)
                helped = True
        return helped

    def _gain(self, judge: int, one: int, two: int) -> tuple[int, int, int]:
        """What an exchange changes: squads twice in a place, squads early or late, squads after the same squad."""
        row, step = self.rows[judge], 2 * (two - one)
        first, second = row[one], row[two]
        twice = (
            _more(self.stands[first, two]) + _more(self.stands[second, one])
            - _more(self.stands[first, one] - 1) - _more(self.stands[second, two] - 1)
        )  # fmt: skip
        lean = (self.lean[first] + step) ** 2 - self.lean[first] ** 2
        lean += (self.lean[second] - step) ** 2 - self.lean[second] ** 2
        if (twice, lean) != (0, 0):
            return twice, lean, 0
        after = row.copy()
        after[one], after[two] = second, first
        change = Counter(pairwise(after))
        change.subtract(pairwise(row))
        follow = sum((self.follows[pair] + more) ** 2 - self.follows[pair] ** 2 for pair, more in change.items())
        return twice, lean, follow

    def _swap(self, judge: int, one: int, two: int) -> None:
        row, step = self.rows[judge], 2 * (two - one)
        self.follows.subtract(pairwise(row))
        first, second = row[one], row[two]
        for squad, old, new in ((first, one, two), (second, two, one)):
            self.stands[squad, old] -= 1
            self.stands[squad, new] += 1
        self.lean[first] += step
        self.lean[second] -= step
        row[one], row[two] = second, first
        self.follows.update(pairwise(row))


def _more(stands: int) -> int:
    """What one more judge at a place where a squad stands already adds to the sum of squares."""
    return 2 * stands + 1
