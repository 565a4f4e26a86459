"""A squad's own result explains its numbers: what each part gives to the points of its event."""

import re
from decimal import Decimal

import pytest

from bot.rules.core.rounding import rounded
from bot.rules.results.own_result import RANGE_FROM
from bot.rules.scoring.standings import standings
from bot.words.core.who_reads import MARKS
from bot.words.results.own_result import own_result
from bot.words.scoring.result_view import ResultView
from storage.records.plan_measures import Share
from storage.records.scores import ScoreBook
from tests.rules.books import attempt, count, event, judges, plan, rubric, sheet, squads, timed

GIVES = re.compile(r"This gives ([\d.]+) of ([\d.]+) points\.")


def test_each_part_of_an_event_says_how_many_of_its_points_it_gives() -> None:
    chain = event(
        "chain",
        timed("clock", scale="between", floor=Decimal(300), full=Decimal(100)),
        rubric("together", weight=Decimal(2)),
        Share(key="all", name="All"),
    )
    book = ScoreBook(
        plan=plan(event("run", count("socks", maximum=Decimal(100))), chain),
        squads=squads(1),
        judges=judges(1),
        attempts=(
            attempt(1, "run.socks", core=3),
            attempt(1, "chain.clock", id=1, seconds=Decimal(200)),
            attempt(1, "chain.all", id=2, contributing=3, members=4),
        ),
        sheets=(sheet(1, 1, "chain.together", [4, 2]),),
    )
    result = ResultView(book, standings(book))
    row = result.standings.rows[0]
    text = own_result(result, row, None).text
    found = GIVES.findall(text)
    # By hand: half of the time's quarter, 6 of 8 of the sheet's half, 3 of 4 of the members' quarter.
    assert found == [("12.5", "25"), ("37.5", "50"), ("18.8", "25")]
    points = next(one.points for one in row.events if one.key == "chain")
    assert points is not None and f"**chain**: {rounded(points, 1)} of 100 points" in text
    assert "Marked by 1 judge\n" in text and text.count("This gives") == 3


def marked(*sheets: list[int]) -> str:
    """What a squad reads of the marks of its judges."""
    book = ScoreBook(
        plan=plan(event("chain", rubric("together"))),
        squads=squads(1),
        judges=judges(*[1] * len(sheets)),
        attempts=(),
        sheets=tuple(sheet(1, number, "chain.together", marks) for number, marks in enumerate(sheets, start=1)),
    )
    result = ResultView(book, standings(book))
    return own_result(result, result.standings.rows[0], None).text


@pytest.mark.parametrize(
    ("sheets", "said", "shown"),
    [
        ([[4, 2]], "Marked by 1 judge\n", ["4.0 of 4", "2.0 of 4"]),
        ([[4, 2], [1, 2]], "Marked by 2 judges: the mean\n", ["2.5 of 4", "2.0 of 4"]),
        (
            [[4, 2], [1, 2], [1, 2]],
            "Marked by 3 judges: the mean, and from lowest to highest mark\n",
            ["2.0 of 4 (1 to 4)", "2.0 of 4 (all gave 2)"],
        ),
    ],
)
def test_lowest_and_highest_are_not_said_where_they_would_be_the_marks_of_two(
    sheets: list[list[int]], said: str, shown: list[str]
) -> None:
    text = marked(*sheets)
    assert said in text
    assert [line.split(": ")[1] for line in text.split("\n") if line.startswith("  - ")] == shown


def test_a_squad_reads_what_else_it_needs_to_add_up_its_marks() -> None:
    said = {
        "mean": None,
        "median": "  - The middle of the judges' sheets counts.",
        "adjusted": "  - The sheets are evened out between mild and strict judges before the mean is taken.",
    }
    for panel, line in said.items():
        about = rubric("together", panel=panel)
        twice = about.criteria[0].model_copy(update={"weight": Decimal(2)})
        about = about.model_copy(update={"criteria": (twice, *about.criteria[1:])})
        book = ScoreBook(
            plan=plan(event("chain", about)),
            squads=squads(2),
            judges=judges(1, 1),
            attempts=(),
            sheets=tuple(sheet(one, number, "chain.together", [4, 2]) for one in (1, 2) for number in (1, 2)),
        )
        result = ResultView(book, standings(book))
        lines = own_result(result, result.standings.rows[0], None).text.split("\n")
        assert sum(text.endswith("4.0 of 4 (counts 2 times)") for text in lines) == 1
        assert [text for text in lines if text.startswith("  - The ")] == ([] if line is None else [line])


@pytest.mark.parametrize(("scale", "compared"), [("maximum", False), ("best", True), ("rank", True)])
def test_a_squad_reads_where_its_points_depend_on_other_squads(scale: str, compared: bool) -> None:
    socks = count("socks", maximum=Decimal(100), scale=scale)
    for measures in ((socks,), (socks, timed("clock", scale="between", floor=Decimal(300), full=Decimal(100)))):
        book = ScoreBook(
            plan=plan(event("run", *measures)),
            squads=squads(2),
            judges=(),
            attempts=(
                *(attempt(squad, "run.socks", id=squad, core=squad) for squad in (1, 2)),
                *(attempt(squad, "run.clock", id=squad + 2, seconds=Decimal(200)) for squad in (1, 2)),
            )[: 2 * len(measures)],
            sheets=(),
        )
        result = ResultView(book, standings(book))
        said = own_result(result, result.standings.rows[0], None).text
        assert ("compared with the other squads." in said) == compared
        assert said.count("compared") == compared


def test_judges_are_told_from_how_many_on_before_they_mark() -> None:
    assert RANGE_FROM == 3 and "from 3 judges on the lowest and the highest mark" in MARKS
    assert "If you alone mark a squad, the mean is your mark" in MARKS


def test_a_corrected_result_names_the_parts_that_have_changed_also_where_the_earlier_one_had_no_details() -> None:
    def own(first: int, second: int) -> tuple[ResultView, str]:
        book = ScoreBook(
            plan=plan(event("run", count("socks", attempts=2)), event("jump", count("jumps"))),
            squads=squads(1),
            attempts=(
                attempt(1, "run.socks", core=first),
                attempt(1, "run.socks", core=30, number=2),
                attempt(1, "jump.jumps", id=9, core=second),
            ),
        )
        result = ResultView(book, standings(book))
        return result, own_result(result, result.standings.rows[0], None).text

    def said(now: ResultView, before: str) -> str:
        again = own_result(now, now.standings.rows[0], None, True, before).text
        return again.split("\n")[1].removeprefix("It takes the place of the earlier one. ")

    (now, same), (_, detail), (_, other) = own(10, 40), own(20, 40), own(10, 60)
    assert said(now, same) == "Your own numbers have not changed."
    assert said(now, detail) == "What has changed: run.", "an attempt that does not count"
    assert said(now, other) == "What has changed: the total and jump."
    short = "\n".join(line for line in other.split("\n") if not line.lstrip().startswith("- "))
    assert said(now, short) == "What has changed: the total and jump."


def test_full_points_never_look_like_less_or_more_than_there_are() -> None:
    parts = [count(key, maximum=Decimal(10), over_maximum="cap", weight=Decimal(1)) for key in ("one", "two", "three")]
    for event_parts in (parts, [*parts, count("four", weight=Decimal(5))]):
        book = ScoreBook(
            plan=plan(event("run", *event_parts)),
            squads=squads(1),
            attempts=tuple(attempt(1, f"run.{one.key}", id=n, core=10) for n, one in enumerate(event_parts)),
        )
        result = ResultView(book, standings(book))
        text = own_result(result, result.standings.rows[0], None).text
        assert [one == two for one, two in GIVES.findall(text)[:3]] == [True, True, True], text
        assert "33.33" not in text + own_result(result, result.standings.rows[0], None).files[0].alt
