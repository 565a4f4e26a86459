"""The draws of judges beside all draws made one by one, each as a book of its own."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations_with_replacement
from math import factorial, prod

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from bot.rules.analysis.placing_bootstrap import _all_draws, judge_bootstrap
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_robustness import judged_book
from tests.rules.books import attempt, count, event, judges, plan, rubric, sheet, squads
from tests.rules.reference import reference
from tests.rules.scoring.test_places_on_team import OAK, PINE

Marks = Sequence[Sequence[int | None]]


def judged(marks: Marks, counts: Sequence[int], weights: Sequence[object], panel: str, scale: str) -> ScoreBook:
    """An event of judged sheets (None: not on the panel) and one of counts, both on one scale."""
    art = event("art", rubric("patch", weights=[1], levels=6, panel=panel, scale=scale))
    run = event("run", count("m", scale=scale))
    return ScoreBook(
        plan=plan(art, run),
        squads=squads(len(marks)),
        judges=judges(*weights),
        attempts=tuple(attempt(squad, "run.m", core=items) for squad, items in enumerate(counts, 1)),
        sheets=tuple(
            sheet(squad, judge, "art.patch", [mark])
            for squad, row in enumerate(marks, 1)
            for judge, mark in enumerate(row, 1)
            if mark is not None
        ),
    )


def with_drawn(book: ScoreBook, drawn: Sequence[int]) -> ScoreBook:
    """The book with a panel of these judges; one who is drawn twice is two judges with the same sheets."""
    by_id = {judge.id: judge for judge in book.judges}
    new = [by_id[one].model_copy(update={"id": n, "number": n}) for n, one in enumerate(drawn, 1)]
    sheets = [
        each.model_copy(update={"id": 1000 * n + each.squad_id, "judge_id": n})
        for n, one in enumerate(drawn, 1)
        for each in book.sheets
        if each.judge_id == one
    ]
    return book.model_copy(update={"judges": tuple(new), "sheets": tuple(sheets)})


def marking(book: ScoreBook) -> list[int]:
    """The judges who have sheets that count."""
    seen = {each.judge_id for each in book.sheets}
    return [judge.id for judge in book.judges if judge.weight > 0 and judge.id in seen]


def draws_one_by_one(book: ScoreBook) -> tuple[dict[int, Fraction], Fraction]:
    """By squad its share of the places, and the share of draws in which all squads could be ranked."""
    names = marking(book)
    share = {squad.id: Fraction(0) for squad in book.squads}
    used = tried = 0
    for drawn in combinations_with_replacement(names, len(names)):
        ways = factorial(len(names)) // prod(factorial(drawn.count(name)) for name in names)
        tried += ways
        result = standings(with_drawn(book, drawn))
        if not result.complete:
            continue
        used += ways
        for squad in result.placed:
            share[squad] += ways
        if result.straddle is not None:
            for squad in result.straddle.squads:
                share[squad] += Fraction(ways * result.straddle.places_left, len(result.straddle.squads))
    return {squad: value / used for squad, value in share.items()} if used else {}, Fraction(used, tried)


@pytest.mark.parametrize("panel", ["mean", "median", "trimmed", "adjusted"])
@pytest.mark.parametrize("scale", ["maximum", "standard"])
@settings(max_examples=10, deadline=None, phases=[Phase.generate])
@given(data=st.data())
def test_every_draw_counts_as_a_book_with_that_panel(panel: str, scale: str, data: st.DataObject) -> None:
    width, height = data.draw(st.integers(2, 4)), data.draw(st.integers(2, 4))
    mark = st.integers(1, 6) if data.draw(st.booleans()) else st.integers(1, 6) | st.none()
    table = data.draw(st.lists(st.lists(mark, min_size=width, max_size=width), min_size=height, max_size=height))
    counts = data.draw(st.lists(st.integers(0, 5), min_size=height, max_size=height))
    weights = data.draw(st.lists(st.sampled_from([1, 1, 2, "0.5", 0]), min_size=width, max_size=width))
    book = judged(table, counts, weights, panel, scale)
    found = judge_bootstrap(book)
    if not standings(book).complete or len(marking(book)) < 2:
        return
    share, usable = draws_one_by_one(book)
    assert (found.share, found.usable) == (share, usable)


def test_a_judge_drawn_twice_is_two_sheets_of_a_trimmed_panel() -> None:
    """Five judges: in the draw of all five nobody's sheet lies there twice, and one highest and one lowest go."""
    book = judged([[6, 1, 3, 3, 3], [2, 5, 3, 3, 2], [4, 4, 1, 1, 6]], [0, 0, 0], [1] * 5, "trimmed", "maximum")
    found = judge_bootstrap(book)
    assert (found.share, found.usable) == draws_one_by_one(book)


def test_a_tie_of_roots_stays_a_tie_in_every_draw() -> None:
    """The counts have a deviation of 8 over 3 under the root; the sheets, drawn anew, two thirds: twice as much."""
    book = judged([[1, 1, 2], [2, 2, 1], [3, 3, 3]], [4, 2, 0], [1] * 3, "mean", "standard")
    found = judge_bootstrap(book)
    assert found.share == draws_one_by_one(book)[0]
    assert found.sole != found.share


def test_all_draws_of_judges_give_the_worked_example_exactly() -> None:
    """Reference D2 (own): all 256 draws of four judges."""
    example = reference("D2")
    found = judge_bootstrap(judged_book(example["input"]["table"]))
    assert (found.exact, found.usable) == (True, Fraction(1))
    for name, shares in (("share", found.share), ("sole", found.sole)):
        expected = [Fraction(value) for value in example["expected"][f"judge_bootstrap_{name}"]]
        assert shares == dict(enumerate(expected, start=1))


def test_drawn_judges_come_close_to_all_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    """Reference D2: within 4 sqrt(p (1 - p) / B) of the exact shares."""
    import bot.rules.analysis.placing_bootstrap as module

    monkeypatch.setattr(module, "EXACT_UP_TO", 1)
    example = reference("D2")
    book, resamples = judged_book(example["input"]["table"]), 400
    found = judge_bootstrap(book, seed=3, resamples=resamples)
    assert not found.exact
    assert found == judge_bootstrap(book, seed=3, resamples=resamples)
    for squad, exact in enumerate(example["expected"]["judge_bootstrap_share"], start=1):
        p = float(Fraction(exact))
        assert abs(float(found.share[squad]) - p) < 4 * (p * (1 - p) / resamples) ** 0.5


def test_all_draws_of_three_have_the_exact_distribution_of_the_mean() -> None:
    """Reference D4 (own): the 27 resamples of three values, here the ten draws with the ways in which each comes."""
    example = reference("D4")
    values = example["input"]["values"]
    found: dict[Fraction, Fraction] = {}
    for times, ways in _all_draws([0, 1, 2]):
        mean = Fraction(sum(values[place] * count for place, count in times.items()), 3)
        found[mean] = found.get(mean, Fraction(0)) + Fraction(ways, 27)
    assert found == {
        Fraction(mean): Fraction(share) for mean, share in example["expected"]["mean_boot_distribution"].items()
    }


def test_draws_that_leave_a_squad_without_a_judge_are_set_aside() -> None:
    """Squad 1 has judge 1 only: of the four draws of two judges, the one of judge 2 twice is of no use."""
    found = judge_bootstrap(judged_book([[9, None], [5, 5]]))
    assert found.usable == Fraction(3, 4)
    assert found.share == {1: 1, 2: 0}


@given(st.lists(st.lists(st.integers(1, 9), min_size=3, max_size=3), min_size=2, max_size=5), st.integers(1, 2))
def test_shares_of_places_add_up_to_the_places(table: list[list[int]], places: int) -> None:
    book = judged_book(table)
    book = book.model_copy(update={"plan": book.plan.model_copy(update={"places": places})})
    found = judge_bootstrap(book)
    assert sum(found.share.values()) == min(places, len(table))


def test_one_judge_cannot_be_drawn_differently() -> None:
    found = judge_bootstrap(judged_book([[9], [5]]))
    assert (found.judges, dict(found.share), found.usable) == (1, {}, Fraction(0))


def test_the_bootstrap_draws_the_places_of_each_group() -> None:
    """Judge 2 alone would put squad 2 before squad 1, in 1 of 4 draws; of squads 3 and 4, both hold a place."""
    marks = {(1, 1): 4, (1, 2): 1, (2, 1): 1, (2, 2): 3, (3, 1): 1, (3, 2): 1, (4, 1): 2, (4, 2): 2}
    made = ScoreBook(
        plan=plan(event("art", rubric("bunting", weights=[1]))).model_copy(
            update={"sections": ("Oak", "Elm", "Pine"), "places": 3, "place_groups": (OAK, PINE)}
        ),
        squads=tuple(
            one.model_copy(update={"section": section})
            for one, section in zip(squads(4), ("Oak", "Oak", "Pine", "Pine"), strict=True)
        ),
        judges=judges(1, 1),
        sheets=tuple(sheet(squad, judge, "art.bunting", [mark]) for (squad, judge), mark in marks.items()),
    )
    assert judge_bootstrap(made).share == {1: Fraction(3, 4), 2: Fraction(1, 4), 3: 1, 4: 1}
