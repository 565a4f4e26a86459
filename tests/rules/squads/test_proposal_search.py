"""Proposed squads are legal and as good as can be: compared with every split there is, for up to 12 students."""

from collections.abc import Sequence
from itertools import combinations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from bot.rules.squads.proposal_search import Open, Score, Split, Wish, propose, score_of
from bot.rules.squads.proposals import why_alone


def subsets(left: frozenset[int], sizes: range) -> Sequence[frozenset[int]]:
    return [frozenset(chosen) for size in sizes for chosen in combinations(sorted(left), size)]


def order(score: Score) -> tuple[int, int, int, int]:
    return score.order


def best(students: Sequence[int], squads: Sequence[Open], wishes: Sequence[Wish], smallest: int, largest: int) -> Score:
    """The best score over every legal split, one after the other."""
    found: list[Score] = []

    def split(
        left: frozenset[int], joins: dict[int, Sequence[int]], founds: list[Sequence[int]], alone: list[int]
    ) -> None:
        # A split that leaves more students alone than a known one is worse, whatever else it keeps.
        if found and len(alone) > found[0].alone:
            return
        if not left:
            found[:] = [min([*found, score_of(joins, founds, alone, squads, wishes, smallest)], key=order)]
            return
        first = min(left)
        for group in subsets(left - {first}, range(smallest - 1, largest)):
            split(left - {first} - group, joins, [*founds, (first, *group)], alone)
        split(left - {first}, joins, founds, [*alone, first])

    def join(number: int, left: frozenset[int], joins: dict[int, Sequence[int]]) -> None:
        if number == len(squads):
            split(left, joins, [], [])
            return
        for group in subsets(left, range(max(0, largest - len(squads[number].members)) + 1)):
            join(number + 1, left - group, {**joins, squads[number].id: tuple(group)})

    join(0, frozenset(students), {})
    return found[0]


SCALE = 1000
"""More than any of the four parts of a score can be."""


def best_by_subsets(
    students: Sequence[int], squads: Sequence[Open], wishes: Sequence[Wish], smallest: int, largest: int
) -> Score:
    """The best score over every legal split, by the best way to deal out each subset of the students.

    What a split costs is a sum over its groups: those left alone, squads that stay small, broken and kept wishes.
    """
    number, known = len(students), set(wishes)
    new = set(students)
    counted = [wish for wish in known if wish.student in new or wish.other in new]
    wanted = sum(wish.together for wish in counted)
    chosen = [[students[place] for place in range(number) if subset >> place & 1] for subset in range(1 << number)]

    def cost(group: Sequence[int], squad: bool) -> int:
        inside = set(group)
        met = [wish.together for wish in counted if wish.student in inside and wish.other in inside]
        small = squad and 0 < len(group) < smallest
        return SCALE**2 * small + SCALE * met.count(False) - met.count(True)

    founding = {subset: cost(group, False) for subset, group in enumerate(chosen) if smallest <= len(group) <= largest}
    best = [0] * (1 << number)
    for subset in range(1, 1 << number):
        first = subset & -subset
        best[subset] = SCALE**3 + best[subset ^ first]
        rest = part = subset ^ first
        while True:
            if (part | first) in founding:
                best[subset] = min(best[subset], founding[part | first] + best[rest ^ part])
            if not part:
                break
            part = (part - 1) & rest
    for squad in squads:
        seats = max(0, largest - len(squad.members))
        joining = [cost((*squad.members, *group), True) if len(group) <= seats else None for group in chosen]
        after = []
        for subset in range(1 << number):
            part, least = subset, best[subset] + (joining[0] or 0)
            while part:
                added = joining[part]
                if added is not None:
                    least = min(least, added + best[subset ^ part])
                part = (part - 1) & subset
            after.append(least)
        best = after
    total = best[-1] + wanted
    alone, total = divmod(total, SCALE**3)
    small, total = divmod(total, SCALE**2)
    return Score(alone, small, *divmod(total, SCALE))


def check_legal(split: Split, students: Sequence[int], squads: Sequence[Open], smallest: int, largest: int) -> None:
    placed = [one for group in (*split.joins.values(), *split.founds, split.alone) for one in group]
    assert sorted(placed) == sorted(students)
    assert all(smallest <= len(group) <= largest for group in split.founds)
    sizes = {squad.id: len(squad.members) for squad in squads}
    assert all(sizes[squad] + len(group) <= largest for squad, group in split.joins.items())


@st.composite
def classes(draw: st.DrawFn) -> tuple[list[int], list[Open], list[Wish], int, int]:
    students = list(range(1, draw(st.integers(0, 12)) + 1))
    smallest = draw(st.integers(1, 4))
    largest = draw(st.integers(smallest, 5))
    sizes = draw(st.lists(st.integers(0, largest + 1), max_size=2))
    squads = [
        Open(number, tuple(range(100 * number, 100 * number + size))) for number, size in enumerate(sizes, start=1)
    ]
    everybody = students + [one for squad in squads for one in squad.members]
    pairs = (
        st.tuples(st.sampled_from(everybody), st.sampled_from(everybody), st.booleans()) if everybody else st.nothing()
    )
    drawn = draw(st.lists(pairs, max_size=12)) if everybody else []
    return students, squads, [Wish(*pair) for pair in drawn if pair[0] != pair[1]], smallest, largest


@example(([1, 2], [Open(1, (101, 102)), Open(2, ())], [Wish(1, 101, False)], 3, 5))
@settings(max_examples=40)
@given(classes())
def test_no_split_is_better_than_the_proposal(drawn: tuple[list[int], list[Open], list[Wish], int, int]) -> None:
    students, squads, wishes, smallest, largest = drawn
    split = propose(students, squads, wishes, smallest, largest)
    check_legal(split, students, squads, smallest, largest)
    assert split.exact
    assert split.score == best_by_subsets(students, squads, wishes, smallest, largest)


def test_twelve_students_with_wishes_that_cannot_all_be_kept() -> None:
    """Three friends of four, one of whom nobody wants beside them: every split of 12 into 3 to 5 was looked at."""
    students = list(range(1, 13))
    wishes = [Wish(one, other, True) for one, other in ((1, 2), (2, 3), (3, 4), (4, 5), (5, 6), (6, 7), (11, 12))]
    wishes += [Wish(one, 1, False) for one in (8, 9, 10)] + [Wish(12, 11, False)]
    split = propose(students, (), wishes, 3, 5)
    check_legal(split, students, (), 3, 5)
    assert split.score == best(students, (), wishes, 3, 5) == best_by_subsets(students, (), wishes, 3, 5)


@settings(max_examples=30)
@given(classes())
def test_both_searches_of_these_checks_agree(drawn: tuple[list[int], list[Open], list[Wish], int, int]) -> None:
    """The one that looks at every split is too slow for many students; so it is the yardstick of the other one."""
    students, squads, wishes, smallest, largest = drawn
    few = students[:5]
    assert best(few, squads, wishes, smallest, largest) == best_by_subsets(few, squads, wishes, smallest, largest)


@pytest.mark.parametrize(("smallest", "largest"), [(3, 5), (2, 3), (4, 5), (1, 1), (4, 4), (5, 6)])
def test_every_number_is_split_or_it_is_said_why_not(smallest: int, largest: int) -> None:
    """A number n is a sum of parts from a to b if and only if ceil(n / b) * a <= n (common practice, no source)."""
    for number in range(1, 20):
        split = propose(range(number), (), (), smallest, largest)
        check_legal(split, range(number), (), smallest, largest)
        possible = -(-number // largest) * smallest <= number
        assert (not split.alone) == possible
        if split.alone:
            assert why_alone(number, smallest, largest, 0) == ("too_few" if number < smallest else "no_split")


def test_a_small_squad_is_filled_before_a_new_one_is_founded() -> None:
    split = propose([1, 2, 3, 4], [Open(7, (70, 71)), Open(8, (80, 81, 82))], (), 3, 5)
    assert len(split.joins[7]) >= 1 and split.score == Score(0, 0, 0, 0)


def test_a_class_without_a_single_squad_is_split_with_its_wishes() -> None:
    """Thirty students, each of whom wants one neighbour: an answer comes, and it is legal."""
    students = list(range(30))
    wishes = [Wish(one, (one + 1) % 30, True) for one in students] + [
        Wish(one, (one + 7) % 30, False) for one in students
    ]
    split = propose(students, (), wishes, 3, 5)
    check_legal(split, students, (), 3, 5)
    assert (split.score.alone, split.score.broken) == (0, 0)
