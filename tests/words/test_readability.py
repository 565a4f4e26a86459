"""What students read is easy to read: the Flesch-Kincaid grade of every text, and of the whole brief."""

from datetime import datetime
from pathlib import Path

import pytest

from bot.rules.calendar.calendar import schedule
from bot.words.calendar import brief
from bot.words.plan.builtin_plan import builtin_plan
from bot.words.plan.event_in_brief import event_text
from tests.words.readability import grade, sentences, texts

WORDS = Path(__file__).parents[2] / "bot" / "words"
THEIRS = (
    *("squads/sign_up", "squads/my_squad", "squads/roster_board", "hand_in/member_parts"),
    *(
        "practice/lost_closed_or_cancelled_turns",
        "practice/turn_reminders",
        "practice/practice_table",
        "practice/all_turns_admin",
    ),
    *(
        "practice/booking",
        "practice/share_and_leftover_turns",
        "practice/first_round_draw",
        "questions/squad_asks",
        "calendar/brief",
        "calendar/reminders",
    ),
    *("calendar/release_brief", "calendar/signup_closes", "calendar/deadline", "plan/public_plan"),
    *(
        "event_day/surprise_for_all",
        "plan/change_plan",
        "plan/event_in_brief",
        "plan/how_points_are_made",
        "plan/worked_example",
        "plan/places_on_team",
    ),
    *(
        "results/own_result",
        "results/announce",
        "results/take_back_announcement",
        "results/listed_changes",
        "results/place_offers",
        "results/feedback_draft",
    ),
    *(
        "core/refusals",
        "core/changed_meanwhile",
        "core/typed_reason",
        "core/faults_and_restarts",
        "core/who_reads",
        "plan/close_days",
        "squads/merge_squads",
    ),
    *(
        "squads/squad_room",
        "squads/student_accounts",
        "squads/captain",
        "squads/leave_squad",
        "squads/proposal_answers",
        "squads/wishes",
    ),
    *("squads/proposals", "class_list/pick_own_name", "class_list/not_on_class_list"),
    *("hand_in/student_leaves_for_good", "hand_in/more_time", "squads/names", "squads/exclusive_roles", "core/photos"),
    *(
        "event_day/call_up",
        "event_day/day_draw",
        "event_day/own_times",
        "event_day/moved_times",
        "event_day/presence_and_equipment",
        "event_day/slot_name",
    ),
    *("event_day/surprise_waves", "event_day/move_day", "event_day/swap_times", "event_day/safety"),
    *("results/protests", "results/finality", "results/mixed_team", "results/feedback"),
    *("questions/published_answers", "questions/coach_answers"),
    *(
        "squads/latecomers",
        "squads/small_squads",
        "squads/undo_correction",
        "squads/take_squad_out",
        "squads/squads_admin",
        "office/stop_or_put_away",
        "office/open_sign_up",
        "event_day/no_show",
    ),
    *(
        "event_day/day_calendar",
        "calendar/print_for_squad",
        "scorekeeping/attempt_value_text",
    ),
)
"""The files whose texts students read; some have a few for coaches as well."""
OTHERS_ARE_TOLD = (
    *("judging/calibration_trial", "judging/my_sheets", "judging/judge_reminders", "judging/paper_sheet_entry"),
    *("judging/invitation", "judging/open_judging", "judging/stand_in_judge", "judging/reopen_after_close"),
    *("judging/second_look", "event_day/late_judge_interviews", "event_day/day_board"),
)
"""Files that post messages to judges and coaches only."""
ON_AVERAGE, AT_MOST = 4.0, 7.0
"""Grades. The first is stricter than the sixth grade in which the youngest are."""
EXCEPTIONS = ("Rules question Moles", ".toml", "mean-of-best-two", "@tenbell")
"""Texts that are only names put in, or that nobody reads: names of files, and what a plan calls things."""


def test_the_grade_is_that_of_known_examples() -> None:
    """The cat: -1.45; the platypus: 11.3 (both often quoted with the formula; from memory)."""
    assert grade("The cat sat on the mat.") == pytest.approx(-1.45, abs=0.01)
    platypus = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
    assert grade(platypus) == pytest.approx(11.3, abs=0.1)


def test_markup_and_lines_without_a_full_stop_are_no_words_and_no_long_sentences() -> None:
    text = "**Day 1 of 10.** The deadline is <t:1800909000:F>.\n- Ada: please read on\n-# [`a b`](c)"
    assert sentences(text)[:3] == ["Day 1 of 10", "The deadline is Monday", "Ada"]
    assert grade("- one part\n- two parts") == grade("One part. Two parts.")


def test_whatever_posts_a_message_is_read_by_students_or_said_to_be_for_others() -> None:
    posts = {
        str(path.relative_to(WORDS).with_suffix(""))
        for path in WORDS.rglob("*.py")
        if "@posted(" in path.read_text("utf-8")
    }
    assert posts - {"core/signs"} - set(THEIRS) - set(OTHERS_ARE_TOLD) == set()
    assert not set(THEIRS) & set(OTHERS_ARE_TOLD)


def every_text() -> list[tuple[float, str]]:
    found = [(grade(text), text) for name in THEIRS for text in texts(WORDS / f"{name}.py")]
    return [(level, text) for level, text in found if not any(part in text for part in EXCEPTIONS)]


def test_texts_for_students_are_easy_on_average() -> None:
    levels = [level for level, _ in every_text()]
    assert len(levels) > 300
    assert sum(levels) / len(levels) <= ON_AVERAGE


def test_no_text_for_students_is_hard() -> None:
    assert [(round(level, 1), text) for level, text in every_text() if level > AT_MOST] == []


def test_the_brief_of_the_built_in_plan_is_easy_too() -> None:
    plan = builtin_plan(datetime(2027, 1, 11, 15, 30), "America/New_York")  # noqa: DTZ001
    assert grade(brief.whole(plan, schedule(plan))) <= ON_AVERAGE
    for event in plan.events:
        assert grade(event_text(event, plan, secret=True)) <= ON_AVERAGE + 1
