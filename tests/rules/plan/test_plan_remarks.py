"""What is worth knowing about a plan that is right."""

from datetime import date, time, timedelta
from typing import Any

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.plan.plan_problems import PlanProblem
from bot.rules.plan.plan_remarks import plan_remarks
from bot.rules.plan.read_plan import read_plan
from bot.rules.practice.practice_table import slots
from tests.rules.plan_files import changed
from tests.rules.plan_samples import plan


def kinds(remarks: tuple[PlanProblem, ...]) -> list[tuple[str, str]]:
    return [(".".join(map(str, remark.path)), remark.kind) for remark in remarks]


REMARKS: list[tuple[dict[str, Any], list[tuple[str, str]]]] = [
    ({}, []),
    ({"remind_at": time(21)}, [("calendar.remind_at", "reminder_moved")]),
    ({"remind_at_on": {3: time(6)}}, [("calendar.remind_at_on.3", "reminder_moved")]),
    (
        {"remind_at_on": {3: time(21), 4: time(7, 10)}},
        [("calendar.remind_at_on.3", "reminder_dropped")],
    ),
    (
        {"brief": "2026-10-26T06:00"},
        [
            ("calendar.brief", "brief_quiet"),
            ("calendar.last_day_hours.0", "last_hours_dropped"),
            ("calendar.last_day_hours.1", "last_hours_dropped"),
        ],
    ),
    ({"brief": "2026-10-26T08:30"}, [("calendar.last_day_hours.0", "last_hours_moved")]),
    ({"closed": [date(2026, 11, 5)]}, [("calendar.days", "deadline_moved")]),
    ({"brief": "2026-10-25T15:30", "counting": "school"}, [("calendar.brief", "brief_closed")]),
    ({"brief": "2026-11-01T01:30", "quiet_until": time(20)}, [("calendar.brief", "clock_twice")]),
    ({"brief": "2027-03-04T02:30", "quiet_until": time(20), "weekend": []}, [("calendar.days", "clock_never")]),
]


@pytest.mark.parametrize(("calendar", "expected"), REMARKS)
def test_what_is_worth_knowing_about_the_calendar_is_remarked(
    calendar: dict[str, Any], expected: list[tuple[str, str]]
) -> None:
    assert kinds(plan_remarks(plan(**calendar))) == expected


def test_what_a_scale_does_not_use_is_remarked() -> None:
    toml = changed(
        ("maximum = 100", 'maximum = 100\nscale = "between"\nfloor = 1\nfull = 9\nover_maximum = "count"'),
        ('name = "Quality"', 'name = "Quality"\npanel = "trimmed"\nmaximum = 4'),
    )
    assert kinds(plan_remarks(read_plan(toml))) == [
        ("events.0.measures.0.over_maximum", "unused"),
        ("events.0.measures.0.maximum", "unused"),
        ("events.1.measures.0.maximum", "unused"),
        ("events.1.measures.0.panel", "trimmed_needs_judges"),
    ]


@pytest.mark.parametrize(
    ("old", "new", "remark"),
    [
        ('name = "Quality"', 'name = "Quality"\njudges_per_squad = 3', ("events.1.measures.0.panel", "panel_partial")),
        ('name = "Quality"', 'name = "Quality"\njudges_per_squad = 1\npanel = "adjusted"',
         ("events.1.measures.0.judges_per_squad", "judges_apart")),
        ('name = "Relay"', 'name = "QUALITY"', ("events.1.measures.1.name", "name_again")),
        ("limit = 300", 'limit = 300\nscale = "standard"', ("events.1.measures.1.scale", "standard_reorders")),
        ('name = "Sock" }', 'name = "Sock", most = 11 }', ("events.0.measures.0.maximum", "over_capped")),
        ('maximum = 100\nitems = [{ key = "sock", name = "Sock" }', 'maximum = 100\nover_maximum = "count"\n'
         'items = [{ key = "sock", name = "Sock", most = 11 }', ("events.0.measures.0.maximum", "over_counts")),
    ],
)  # fmt: skip
def test_what_can_surprise_a_coach_is_remarked(old: str, new: str, remark: tuple[str, str]) -> None:
    assert kinds(plan_remarks(read_plan(changed((old, new))))) == [remark]


def test_what_is_past_already_is_remarked_where_the_present_is_known() -> None:
    found = schedule(plan())
    for now, kind in ((found.deadline, "deadline_past"), (found.brief, "brief_past")):
        assert [remark.kind for remark in plan_remarks(plan(), now)] == [kind]
    assert plan_remarks(plan(), found.brief - timedelta(minutes=1)) == ()


@pytest.mark.parametrize(
    ("table", "expected", "remark"),
    [("times = [12:10:00]\n", 8, []), ("times = [12:10:00]\n", 9, ["practice_short"]),
     ("times = [12:10:00]\nturns = 2\n", 5, ["practice_short"]), ("times = [12:10:00]\nturns = 2\n", 4, []),
     ("times = [12:10:00]\nfrom_day = 5\nuntil_day = 6\n", 1, ["practice_none"])],
)  # fmt: skip
def test_turns_that_will_not_do_for_the_squads_expected_are_remarked(
    table: str, expected: int, remark: list[str]
) -> None:
    """The window of the good plan has ten days; two of them, days 5 and 6, are a weekend."""
    toml = changed(("[calendar]\n", f"[squads]\nexpected = {expected}\n[practice]\n{table}[calendar]\n"))
    found = read_plan(toml)
    turns = len(slots(found, schedule(found)))
    assert [one.kind for one in plan_remarks(found)] == remark, turns


def test_an_evened_out_panel_and_a_maximum_that_fits_need_no_remark() -> None:
    toml = changed(
        ('name = "Quality"', 'name = "Quality"\njudges_per_squad = 3\npanel = "adjusted"'),
        ('name = "Sock" }', 'name = "Sock", most = 10 }'),
    )
    assert plan_remarks(read_plan(toml)) == ()
