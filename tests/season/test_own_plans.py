"""Plans of somebody's own: what `plan check` accepts is played to the end, and what is not is refused in words."""

import asyncio
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.words.plan.builtin_plan import bridges_and_debate_plan_text, builtin_plan_text
from deploy.rehearsal.cast.attempt_entry import value
from deploy.rehearsal.season.play import Played, play
from deploy.rehearsal.season.season_settings import script
from deploy.rehearsal.wire.forms import Field
from deploy.rehearsal.wire.rendering import Option
from tests.season.generated_plans import endings
from tests.season.kinds_played_elsewhere import IN_ANOTHER_PLAN

QUIZ = """
name = "Quiz"
zone = "Europe/Berlin"
sections = ["A"]
places = 2
brief = "Nothing but a quiz."
[squads]
smallest = 1
largest = 2
[calendar]
brief = 2026-10-12T08:00:00
days = 2
signup_closes = 2026-10-13T12:00:00
[practice]
times = [12:10:00]
first_round = "draw"
[[events]]
key = "quiz"
name = "Quiz"
weight = 1
about = "Answer."
[[events.measures]]
kind = "count"
key = "right"
name = "Right answers"
items = [{ key = "r", name = "Right", points = 1, most = 20 }]
attempts = 1
scale = "rank"
"""
"""No rubric, one thing to measure, two places, sign-up that closes after the brief, a lot for the first turns."""


TWO_SURPRISES = "".join(
    f"""
[[events]]
key = "surprise-{number}"
name = "Surprise {number}"
weight = 1
surprise = true
about = "Find socks."
[[events.measures]]
kind = "count"
key = "found"
name = "Socks found"
items = [{{ key = "sock", name = "Sock", points = 1, most = 9 }}]
attempts = 1
scale = "rank"
"""
    for number in (1, 2)
)


def played(plan: str, out: Path, *, to_the_end: bool = True) -> Played:
    small = replace(script(1, plan.encode()), squads=3, judges=2)
    return asyncio.run(play(small, out, lambda _: None, to_the_end=to_the_end))


@pytest.mark.season
def test_a_plan_with_counted_events_two_surprises_and_no_judges_is_played_to_the_end(tmp_path: Path) -> None:
    season = played(QUIZ + TWO_SURPRISES, tmp_path)
    assert [row["rank"] for row in season.standings].count(1) >= 1
    assert len(season.standings) == 3
    text = season.server.transcript.text()
    assert text.count("is offered to you") >= 2, "both places are offered"
    assert "The lot is drawn" in text
    assert {custom_id.split(":")[0] for custom_id in season.server.interactions.custom_ids} >= IN_ANOTHER_PLAN


@pytest.mark.season
def test_generated_plans_are_played_to_the_end() -> None:
    """A few of those that `soak --plans 200` plays."""
    assert [ending.why for ending in endings(2, number=7)] == ["", ""]


@pytest.mark.season
def test_a_plan_that_the_bot_refuses_breaks_off_at_once_with_the_reason_and_leaves_a_page(tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text(QUIZ.replace('brief = "Nothing but a quiz."\n', ""), "utf-8")
    line = [sys.executable, "-m", "deploy.rehearsal", "--quiet", "--out", str(tmp_path / "out"), "--plan", str(plan)]
    done = subprocess.run(line, capture_output=True, text=True, check=False, cwd=Path(__file__).parents[2])
    assert done.returncode == 1
    assert "did not begin" in done.stderr and "`brief` is missing" in done.stderr
    assert (tmp_path / "out" / "index.html").exists()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("nonsense = ", "cannot be read"),
        (QUIZ.replace("2026-10-12T08:00:00", "2026-10-12"), "local date and time"),
        (QUIZ.replace("Europe/Berlin", "Europe/Nowhere"), "cannot be read"),
        (QUIZ.replace('scale = "rank"', 'scale = "rank"\njudges_per_squad = 25'), "25 judges"),
    ],
)
def test_a_plan_that_cannot_be_played_is_refused_before_anything_begins(text: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        script(1, text.encode())


def test_both_shipped_plans_can_be_played() -> None:
    for text in (builtin_plan_text(), bridges_and_debate_plan_text()):
        known = script(1, text.encode())
        assert known.begins < known.brief.astimezone(known.begins.tzinfo)


def field(
    label: str, description: str, kind: str = "text", options: tuple[Option, ...] = (), most: int = 4000
) -> Field:
    return Field(label, description, kind, True, "", "", False, 0, most, options, {}, {})


@given(
    st.integers(-50, 49), st.integers(50, 5000), st.integers(0, 4), st.booleans(), st.floats(0, 1), st.integers(0, 99)
)
def test_a_measured_number_is_possible_whatever_the_bounds(
    lowest: int, highest: int, decimals: int, lower: bool, skill: float, seed: int
) -> None:
    said = f"In cm, at most {decimals} decimals, {lowest} to {highest}. {'Lower' if lower else 'Higher'} is better."
    typed = value(Random(seed), field("Length", said), skill)
    assert isinstance(typed, str)
    assert lowest <= float(typed) <= highest
    assert len(typed.partition(".")[2]) == decimals


@given(st.integers(1, 999), st.floats(0, 1), st.integers(0, 99))
def test_nobody_counts_more_than_there_are(most: int, skill: float, seed: int) -> None:
    typed = value(Random(seed), field("Sock", f"How many; 10 points each. There are {most}."), skill)
    assert isinstance(typed, str) and 0 <= int(typed) <= most


@given(st.integers(1, 59), st.integers(0, 59), st.floats(0, 1), st.integers(0, 99))
def test_a_time_is_within_the_limit(minutes: int, seconds: int, skill: float, seed: int) -> None:
    said = f"Such as 1:32.4 or 92.4; several watches: 1:32.4 / 1:32.6. The limit is {minutes}:{seconds:02}."
    typed = value(Random(seed), field("Time", said), skill)
    assert isinstance(typed, str)
    whole, _, rest = typed.partition(":")
    assert 0 < 60 * int(whole) + float(rest) <= 60 * minutes + seconds
