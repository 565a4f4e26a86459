"""The coach's daily digest: when it comes, and who is named in it."""

from datetime import UTC, date, datetime, timedelta

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.office import digest
from storage.records.tryout import State
from tests.actions.conftest import small_plan

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def test_the_coach_gets_one_a_day_from_three_weeks_before_the_brief_to_the_close_of_judging() -> None:
    plan = small_plan()
    found = schedule(plan)
    days = [entry.at.astimezone(found.zone).date() for entry in digest.agenda(plan, found, "signup")]
    assert days[0] == date(2026, 12, 21) and days[-1] == found.judging_closes.astimezone(found.zone).date()
    assert len(days) == (days[-1] - days[0]).days + 1


@pytest.mark.parametrize("state", ["drafting", "settled", "announced", "archived"])
def test_before_sign_up_and_after_judging_there_is_none(state: State) -> None:
    assert digest.agenda(small_plan(), schedule(small_plan()), state) == ()


def test_the_coach_has_no_digest_on_days_without_school_where_school_days_count() -> None:
    calendar = small_plan().calendar.model_copy(update={"counting": "school", "closed": (date(2027, 1, 13),)})
    plan = small_plan(calendar=calendar)
    days = {entry.at.date() for entry in digest.agenda(plan, schedule(plan), "signup")}
    assert not days & {date(2027, 1, 9), date(2027, 1, 10), date(2027, 1, 13)}
    assert {date(2027, 1, 8), date(2027, 1, 11), date(2027, 1, 12), date(2027, 1, 14)} <= days


def test_nobody_is_behind_while_squads_fill_up_or_have_just_got_the_brief_or_judges_mark() -> None:
    assert not digest.names_who_is_behind("signup", BRIEF, None, BRIEF - 3 * DAY - HOUR)
    assert digest.names_who_is_behind("signup", BRIEF, None, BRIEF - 3 * DAY)
    assert not digest.names_who_is_behind("window", BRIEF, BRIEF, BRIEF + 5 * HOUR)
    assert digest.names_who_is_behind("window", BRIEF, BRIEF, BRIEF + 6 * HOUR)
    assert not digest.names_who_is_behind("judging", BRIEF, BRIEF, BRIEF + 12 * DAY)


def test_it_looks_a_day_ahead_and_back_to_the_last_one_or_two_weeks() -> None:
    assert [digest.is_soon(BRIEF + ahead, BRIEF) for ahead in (0 * DAY, HOUR, DAY, DAY + HOUR)] == [
        False, True, True, False,
    ]  # fmt: skip
    assert digest.looks_back_to([BRIEF - 2 * DAY, BRIEF - DAY], BRIEF) == BRIEF - DAY
    assert digest.looks_back_to([], BRIEF) == BRIEF - 14 * DAY


def test_questions_latecomers_and_later_who_has_no_squad_come_each_time() -> None:
    assert [digest.is_said_each_time(what, False) for what in ("questions", "late", "alone", "soon")] == [
        True, True, False, False,
    ]  # fmt: skip
    assert digest.is_said_each_time("alone", True) and not digest.is_said_each_time("behind", True)
    assert digest.is_said_now(True, "one", {"one"}) and digest.is_said_now(False, "two", {"one"})
    assert not digest.is_said_now(False, "one", {"one"})
