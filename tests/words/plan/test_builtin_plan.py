"""The built-in plan: right, fair to read, and a plan that a coach would be glad to get."""

import re
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.plan.plan_problems import BadPlan
from bot.rules.plan.plan_remarks import plan_remarks
from bot.rules.plan.read_plan import read_plan, write_plan
from bot.words.plan.builtin_plan import builtin_plan, builtin_plan_text
from storage.records.plan import Plan
from storage.records.plan_measures import Count, Rubric, Share, Time

BRIEF = datetime.fromisoformat("2027-03-08T14:00")


def the_plan() -> Plan:
    return builtin_plan(BRIEF, "Europe/London", ("10a", "10b"))


def shown_texts(plan: Plan) -> list[str]:
    """Every line of text that a student or judge reads from the plan."""
    texts = [plan.name, plan.brief]
    for event in plan.events:
        texts += [event.name, event.about, *event.cautions]
        for measure in event.measures:
            texts.append(measure.name)
            if isinstance(measure, Rubric):
                texts += [line for criterion in measure.criteria for line in (criterion.name, *criterion.levels)]
    return [line for text in texts for line in text.splitlines()]


def test_the_file_is_a_right_plan_with_nothing_to_remark() -> None:
    plan = read_plan(builtin_plan_text())
    assert plan_remarks(plan) == ()
    assert read_plan(write_plan(plan)) == plan


def test_the_coach_gives_date_zone_sections_and_name() -> None:
    plan = builtin_plan(BRIEF, "Australia/Lord_Howe", ("10a",), "Robots of year 10")
    assert (plan.calendar.brief, plan.zone, plan.sections, plan.name) == (
        BRIEF, "Australia/Lord_Howe", ("10a",), "Robots of year 10"
    )  # fmt: skip
    assert len(schedule(plan).days) == 10
    assert builtin_plan(BRIEF, "Europe/London").sections == read_plan(builtin_plan_text()).sections


def test_a_wrong_zone_is_told_like_any_mistake_in_a_plan() -> None:
    with pytest.raises(BadPlan) as bad:
        builtin_plan(BRIEF, "Europe/Lundun", ("10a", "10A"))
    assert [problem.kind for problem in bad.value.problems] == ["zone", "repeated"]


def test_three_events_count_forty_thirty_thirty_for_one_place() -> None:
    plan = the_plan()
    assert [event.weight for event in plan.events] == [40, 30, 30]
    assert [event.surprise for event in plan.events] == [False, False, True]
    assert plan.places == 1


def test_the_counted_run_has_a_maximum_that_the_table_really_holds() -> None:
    (run,) = the_plan().events[0].measures
    assert isinstance(run, Count)
    assert (run.attempts, run.keep, run.scale) == (2, "best", "maximum")
    assert run.maximum == 10 * run.items[0].points == Decimal(100)
    assert "Ten socks" in the_plan().events[0].about


def test_the_bunting_is_judged_by_five_criteria_of_four_levels_and_the_share_of_members() -> None:
    rubric, share = the_plan().events[1].measures
    assert isinstance(rubric, Rubric)
    assert isinstance(share, Share)
    assert [len(criterion.levels) for criterion in rubric.criteria] == [4, 4, 4, 4, 4]
    assert Fraction(share.weight) / Fraction(rubric.weight + share.weight) == Fraction(1, 5)  # as the brief says


def test_the_paper_chain_is_half_time_and_half_working_together() -> None:
    clock, rubric = the_plan().events[2].measures
    assert isinstance(clock, Time)
    assert isinstance(rubric, Rubric)
    assert clock.weight == rubric.weight  # "counts half" in the text
    assert 300 <= clock.limit <= 600
    assert clock.floor == clock.limit == 8 * 60
    assert clock.full == 2 * 60
    assert [criterion.key for criterion in rubric.criteria] == ["teamwork", "communication"]


def test_nothing_a_student_reads_before_it_starts_gives_the_surprise_away() -> None:
    plan = the_plan()
    open_texts = " ".join([plan.brief, *(event.about for event in plan.events if not event.surprise)]).casefold()
    for word in ("paper chain", "chain", "tape", "scissors", "glue"):
        assert word not in open_texts


def test_every_event_has_its_cautions() -> None:
    assert all(len(event.cautions) >= 2 for event in the_plan().events)


def test_descriptors_say_what_is_seen_and_not_how_good_it_feels() -> None:
    feelings = re.compile(
        r"\b(very|good|great|poor|excellent|creative|nice|beautiful|weak|strong|well)\b", re.IGNORECASE
    )
    for event in the_plan().events:
        for measure in event.measures:
            for criterion in measure.criteria if isinstance(measure, Rubric) else ():
                assert len(set(criterion.levels)) == len(criterion.levels)
                assert not [level for level in criterion.levels if feelings.search(level)]


def test_sentences_are_short_enough_for_twelve_year_olds() -> None:
    for line in shown_texts(the_plan()):
        for sentence in re.split(r"(?<=[.!?:;])\s", line):
            assert len(sentence.split()) <= 25, sentence


def test_no_word_needs_a_dictionary() -> None:
    text = " ".join(shown_texts(the_plan())).casefold()
    for word in ("criterion", "criteria", "rubric", "panel", "normalis", "submission", "deliverable", "stakeholder"):
        assert word not in text
