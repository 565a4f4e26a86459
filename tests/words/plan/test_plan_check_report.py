"""The report on a checked plan: every mistake, or what the plan means and what is worth knowing."""

import re

from bot.rules.plan.read_plan import read_plan
from bot.words.plan.builtin_plan import bridges_and_debate_plan_text, builtin_plan_text
from bot.words.plan.new_event_template import TO_WRITE
from bot.words.plan.plan_check_report import plan_check_report
from tests.rules.plan_files import GOOD, changed
from tests.words.plan.test_new_plan_questions import answered


def test_the_report_on_a_bad_plan_lists_every_mistake() -> None:
    report, ok = plan_check_report(changed(("weight = 40", "weight = 0"), ("limit = 300", "limit = 0")))
    assert not ok
    assert report.splitlines() == [
        "This plan has 2 mistakes.",
        "",
        "Line 20. Event 1, `weight` is 0. It must be more than 0.",
        "Line 44. Event 2, measure 2, `limit` is 0. It must be more than 0.",
    ]


def test_the_report_on_a_good_plan_shows_shares_calendar_and_fingerprint() -> None:
    report, ok = plan_check_report(changed(("weight = 40", "weight = 61")))
    assert ok
    lines = report.splitlines()
    assert lines[0] == "This plan is right."
    assert "66.67 %  Sock run" in report  # 61 of 91.5
    assert "33.33 %  Bunting" in report
    assert "When totals are equal: Sock run, then One idea (Bunting), then a run-off." in lines
    assert any(
        line.startswith("  day 10  Thu 22 Oct 2026  reminders 12:30 and 14:30; deadline 15:30") for line in lines
    )
    assert re.fullmatch("[0-9a-f]{64}", lines[-1])
    assert max(map(len, lines)) <= 130


def test_the_report_has_remarks_only_where_there_are_any() -> None:
    assert "WORTH KNOWING" not in plan_check_report(GOOD)[0]
    report, ok = plan_check_report(changed(("closed = [", "remind_at = 21:00:00\nclosed = [")))
    assert ok
    assert "WORTH KNOWING\nLine" not in report
    assert "[calendar] `remind_at` is 21:00, in the quiet hours. Those reminders wait until 07:00." in report


def test_the_report_says_how_far_practice_goes_and_what_students_read() -> None:
    report, ok = plan_check_report(bridges_and_debate_plan_text())
    assert ok
    assert "That is 1 for each of the 12 squads expected." in report
    read = report.split("WHAT STUDENTS READ")[1]
    assert "Measured in g (lower is better): Mass of the bridge." in read
    assert "Monday 16 November 2026 at 10:00" in read and "<t:" not in read and "**" not in read
    built_in, _ = plan_check_report(builtin_plan_text())
    assert "Write `expected` under [squads]" in built_in and "scissors" not in built_in.split("WHAT STUDENTS READ")[1]


def test_the_report_names_the_events_that_nobody_has_written_about_yet() -> None:
    toml, _ = answered()
    names = [event.name for event in read_plan(toml).events]
    report, ok = plan_check_report(toml)
    assert ok and f"in {names[0]}, {names[1]} and {names[2]}. Write there what squads do." in report
    written = toml.replace(TO_WRITE, "Drive up and down.")
    assert "Write there what squads do" not in plan_check_report(written)[0]
