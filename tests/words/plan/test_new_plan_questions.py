"""A plan by answering questions: the proposals make one, the answers stand in it, wrong answers are asked again."""

import subprocess
import sys
from datetime import date, time
from itertools import product
from pathlib import Path

import pytest

from bot.rules.plan.new_plan_questions import TAKES, defaults
from bot.rules.plan.new_set_of_events import read_events
from bot.rules.plan.plan_remarks import plan_remarks
from bot.rules.plan.read_plan import read_plan
from bot.words.plan.new_plan_questions import QUESTIONS, ask_all, plan_toml
from storage.records.plan_measures import Count, Number

TODAY = date(2026, 10, 1)
ROOT = Path(__file__).parents[3]


def answered(*typed: str) -> tuple[str, list[str]]:
    """The plan after these lines, and what was said in between; further questions take what is proposed."""
    waiting = list(typed)
    said: list[str] = []
    found = defaults(TODAY)
    ask_all(found, lambda _: waiting.pop(0) if waiting else "", said.append)
    return plan_toml(found), said


def test_nothing_typed_makes_a_plan_that_is_right() -> None:
    toml, said = answered()
    plan = read_plan(toml)
    assert said == [] and plan_remarks(plan) == ()
    assert plan.calendar.brief.date().isoweekday() == 1 and plan.calendar.brief.date() > TODAY
    assert len(QUESTIONS) == 10 and TAKES.keys() == QUESTIONS.keys()


def test_the_answers_stand_in_the_plan() -> None:
    toml, said = answered(
        'Code "review" day', "Europe/London", "9a, 9b", "2", "2 to 4", "2027-02-01", "09:00", "7 school",
        "Bridge = number kg lower, Quiz = count, Poster = judges, Bugs = count lower, Lap = time, Rules = checklist",
        "12:10, 15:40",
    )  # fmt: skip
    plan = read_plan(toml)
    assert said == []
    assert (plan.name, plan.zone, plan.sections, plan.places) == (
        'Code "review" day', "Europe/London", ("9a", "9b"), 2
    )  # fmt: skip
    assert (plan.squads.smallest, plan.squads.largest, plan.calendar.days) == (2, 4, 7)
    assert plan.calendar.counting == "school" and plan.practice is not None
    assert plan.practice.times == (time(12, 10), time(15, 40))
    kinds = [event.measures[0] for event in plan.events]
    assert [one.kind for one in kinds] == ["number", "count", "rubric", "count", "time", "checklist"]
    assert isinstance(kinds[0], Number) and (kinds[0].unit, kinds[0].better) == ("kg", "lower")
    assert isinstance(kinds[3], Count) and kinds[3].better == "lower"
    assert [remark.kind for remark in plan_remarks(plan)] == ["last_hours_moved"]  # of a brief at 9


def test_a_wrong_answer_is_asked_again_with_the_mend() -> None:
    toml, said = answered(
        "Day", "London", "Europe/London", "9a, 9A", "9a, 9b", "0", "1", "5-3", "3–5", "1/2/27", "2027-02-01", "25:00",
        "09:00", "many", "7", "Poster", "Poster = magic", "Poster = judges",
    )  # fmt: skip
    assert read_plan(toml).events[0].name == "Poster"
    assert len(said) == 9
    assert "Europe/London" in said[0] and "such as 15:30" in said[5] and "Poster = judges" in said[7]


def test_every_set_of_events_makes_a_right_plan() -> None:
    ways = ["count", "count lower", "number kg", "number cm lower", "time", "judges", "checklist"]
    for one, other in product(ways, ways):
        found = defaults(TODAY)
        found.events = read_events(f"É 'one' = {one}, Second thing = {other}")
        read_plan(plan_toml(found))


@pytest.mark.parametrize("arguments", [["reference"], ["schema"], ["new", "--yes", "FILE"], ["check", "FILE"]])
def test_the_commands_run_from_the_command_line(arguments: list[str], tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    if arguments[0] == "check":
        file.write_text(answered()[0], encoding="utf-8")
    said = tenbell(*[str(file) if one == "FILE" else one for one in arguments])
    assert said.returncode == 0 and said.stdout
    if arguments[0] == "new":
        assert read_plan(file.read_bytes()).events
        again = tenbell("new", "--yes", str(file))
        assert again.returncode != 0 and "is there already" in again.stderr


def tenbell(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "bot", "plan", *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60, check=False)
