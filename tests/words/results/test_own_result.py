"""A squad's own result explains its numbers: what each part gives to the points of its event."""

import re
from decimal import Decimal

from bot.rules.core.rounding import rounded
from bot.rules.scoring.standings import standings
from bot.words.results.own_result import own_result
from bot.words.scoring.outcome import Outcome
from storage.records.plan import Share
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
    outcome = Outcome(book, standings(book))
    row = outcome.standings.rows[0]
    text = own_result(outcome, row, None).text
    found = GIVES.findall(text)
    # By hand: half of the time's quarter, 6 of 8 of the sheet's half, 3 of 4 of the members' quarter.
    assert found == [("12.5", "25"), ("37.5", "50"), ("18.8", "25")]
    points = next(one.points for one in row.events if one.key == "chain")
    assert points is not None and f"**chain**: {rounded(points, 1)} of 100 points" in text
    assert "Marked by 1 judge" in text and text.count("This gives") == 3
