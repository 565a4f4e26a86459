"""Where there is no timetable, the limit that binds is named."""

from dataclasses import replace

import pytest

from bot.rules.event_day.timetable import Day, make_timetable
from bot.rules.event_day.why_no_timetable import bindings
from tests.rules.event_day.days import BASE, day, minutes


@pytest.mark.parametrize(
    ("of", "what", "needed", "there"),
    [
        # 8 squads x 2 runs x 5 min = 80 min; one table in a lesson of 50 min has ten of them.
        (day(8, 1, 1, 3), "tables", 80, 50),
        # 8 squads x (10 + 3) min = 104 min for one panel; 50 min hold four interviews (4 x 13 - 3 = 49).
        (day(8, 1, 2, 1), "judge", 104, 52),
        # Five runs and an interview of ten minutes are 35 minutes of one squad.
        (day(1, 1, 1, 1, attempts=5, lesson=30), "squad", 35, 30),
        (day(2, 1, 1, 1, lesson=8), "no_time", 0, 0),
    ],
)
def test_a_limit_that_counting_shows_is_named_with_its_minutes(of: Day, what: str, needed: int, there: int) -> None:
    assert make_timetable(of) is None
    found = bindings(of)[0]
    assert (found.what, found.needed, found.there) == (what, needed, there)


def test_a_limit_that_only_the_solver_shows_is_found_by_taking_it_away() -> None:
    """Two sections at nearly the same time: each fits alone, and the table cannot hold both."""
    of = day(8, 1, 1, 0, attempts=1, lesson=25)
    windows = dict(of.windows)
    windows |= {("run", squad): ((BASE + minutes(1), BASE + minutes(26)),) for squad in of.squads[4:]}
    both = replace(of, windows=windows)
    assert make_timetable(both) is None
    assert [one.what for one in bindings(both)] == ["all_tables"]
