"""The brief says how points are made: every number that enters a total stands in it, and no page is cut badly."""

import re
from datetime import UTC, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.calendar import schedule
from bot.rules.plan.read_plan import read_plan
from bot.rules.scoring.scales import highest_value
from bot.words.calendar import brief
from bot.words.core.number_text import exact
from bot.words.core.times import seconds_text
from bot.words.plan.builtin_plan import bridges_and_debate_plan_text, builtin_plan_text
from bot.words.plan.event_in_brief import event_parts
from bot.words.plan.how_points_are_made import measure_points
from storage.records.message import MESSAGE_LENGTH
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Checklist, Count, Criterion, Measure, Rubric, Share, Time
from tests.rules.books import count, event, plan, rubric, timed

PLANS = [read_plan(builtin_plan_text()), read_plan(bridges_and_debate_plan_text())]
BOTH = pytest.mark.parametrize("of", PLANS, ids=["built-in", "second"])


def read(of: Plan) -> str:
    """The whole brief, with every surprise started."""
    return "\n".join(pages(of))


def numbers(measure: Measure) -> list[str]:
    """Every number of a measure that enters a total, as people write it."""
    time = isinstance(measure, Time)
    found: list[Decimal] = [] if time else [one for one in (measure.floor, measure.full) if one is not None]
    told = [seconds_text(one) for one in (measure.floor, measure.full) if time and one is not None]
    if measure.scale == "maximum" and not isinstance(measure, Share):
        highest = Decimal(highest_value(measure).numerator) / highest_value(measure).denominator
        told.append(seconds_text(highest) if time else exact(highest))
    if isinstance(measure, Count):
        found += [item.points for item in measure.items]
    if isinstance(measure, Checklist):
        found += [line.points for line in measure.lines]
    if isinstance(measure, Time):
        told += [seconds_text(measure.limit), seconds_text(measure.fault_seconds)]
    if isinstance(measure, Rubric):
        found += [line.weight for line in measure.criteria if line.weight != 1]
        found += [Decimal(measure.judges_per_squad)] if measure.judges_per_squad else []
    elif not isinstance(measure, Share) and measure.attempts > 1:
        found.append(Decimal(measure.attempts))
    return [*told, *map(exact, found)]


@BOTH
def test_every_number_that_enters_a_total_occurs_in_the_text_of_its_event(of: Plan) -> None:
    for one in of.events:
        text = "\n".join(event_parts(one.model_copy(update={"about": ""}), of, secret=True))
        whole = exact(sum((measure.weight for measure in one.measures), Decimal(0)))
        for measure in one.measures:
            for number in numbers(measure):
                assert re.search(rf"(?<![\d.]){re.escape(number)}(?![\d]|\.\d)", text), (measure.name, number)
            if len(one.measures) > 1:
                assert f"This is {exact(measure.weight)} of {whole} parts of the event." in text


@BOTH
def test_the_brief_names_each_events_weight_the_order_of_the_tie_breaks_and_an_example(of: Plan) -> None:
    text = read(of)
    for one in of.events:
        assert f"{one.name} {exact(one.weight)}" in text
    order = text.partition("Equal totals?")[2].partition("\n")[0]
    assert order.count(", then ") == len(of.tie_breaks) - 1 and "run-off" in text
    assert "An example, made up" in text


def test_what_is_secret_is_in_neither_the_total_nor_the_example() -> None:
    only = plan(
        event("open", count()), event("hush", rubric("secret"), weight=3), tie_breaks=("hush.secret.c1", "open")
    )
    hidden = only.model_copy(update={"events": (only.events[0], only.events[1].model_copy(update={"surprise": True}))})
    text = brief.whole(hidden, schedule(hidden, datetime(2027, 1, 11, tzinfo=UTC)))
    assert "hush" not in text and "secret" not in text and "criterion" not in text
    assert "the surprise, then open" in text


@pytest.mark.parametrize(
    ("measure", "said"),
    [
        (timed(), "0 s gives full marks, 5 min or more gives none"),
        (count(better="lower", scale="best"), "the best value divided by their own"),
        (count(scale="rank"), "Only the order of the squads counts"),
        (
            count(scale="between", floor=Decimal(10), full=Decimal(0), better="lower"),
            "0 points or less gives full marks",
        ),
        (rubric(panel="trimmed"), "From 5 judges up, the highest and the lowest sheet are left out"),
        (rubric(panel="median"), "The middle of the judges' sheets"),
        (rubric(judges_per_squad=3), "3 judges see each squad"),
    ],
)
def test_each_way_to_make_points_is_said(measure: Measure, said: str) -> None:
    assert said in measure_points(event("one", measure), measure)


@BOTH
def test_no_page_of_the_plans_that_are_shipped_is_cut_inside_an_event(of: Plan) -> None:
    found = pages(of)
    for one in of.events:
        assert any("\n".join(event_parts(one, of, secret=True, hidden=False)) in page for page in found), one.name


LEVEL = st.text(alphabet="abc *_", min_size=1, max_size=100).map(lambda text: f"x{text.strip()}"[:100])
LONG_RUBRICS = st.lists(st.lists(LEVEL, min_size=3, max_size=6), min_size=1, max_size=8).map(
    lambda all_levels: rubric("long").model_copy(
        update={
            "criteria": tuple(
                Criterion(key=f"c{number}", name=f"Criterion {number}", levels=tuple(levels))
                for number, levels in enumerate(all_levels, start=1)
            )
        }
    )
)
EVENTS = st.builds(
    lambda about, rubrics, cautions: event("long", timed("clock"), *rubrics).model_copy(
        update={"about": about, "cautions": tuple(cautions)}
    ),
    st.text(alphabet="ab \n", max_size=1500).map(str.strip),
    st.lists(LONG_RUBRICS, max_size=2).map(
        lambda found: [one.model_copy(update={"key": f"long{n}"}) for n, one in enumerate(found)]
    ),
    st.lists(LEVEL, max_size=8),
)


@given(st.lists(EVENTS, min_size=1, max_size=3))
def test_an_event_that_fits_stands_on_one_page_and_of_a_longer_one_no_criterion_is_cut(events: list[Event]) -> None:
    of = plan(*(one.model_copy(update={"key": f"e{number}"}) for number, one in enumerate(events)))
    found = pages(of)
    assert all(len(page) <= MESSAGE_LENGTH for page in found)
    for one in of.events:
        parts = event_parts(one, of, secret=True, hidden=False)
        assert all(any(part in page for page in found) for part in parts)
        if len("\n".join(parts)) <= brief.ROOM:
            assert any("\n".join(parts) in page for page in found)


def test_what_judges_look_at_in_a_long_event_has_a_heading_of_its_own_that_comes_again_on_each_page() -> None:
    levels = tuple(f"{number} {'x' * 98}" for number in range(6))
    lines = tuple(Criterion(key=f"c{number}", name=f"Line {number}", levels=levels) for number in range(6))
    long = event("long", timed("clock"), rubric("looks").model_copy(update={"criteria": lines}))
    task, first, *further = pages(plan(long))
    assert "Timed: **clock**" in task and "Line" not in task
    assert first.startswith("**How judges mark long**\nJudges look at looks:\n**Line 0**")
    assert len(further) == 2 and all(page.startswith("**How judges mark long** (goes on)\n") for page in further)


def pages(of: Plan) -> list[str]:
    """Every page of the brief, with every surprise started."""
    started = {one.key for one in of.events}
    when = schedule(of, datetime(2027, 1, 11, 20, 30, tzinfo=UTC))
    last = brief.number_of_pages(of, when, started) - 1
    return [brief.brief_opened(of, when, page, started).text for page in range(last + 1)]
