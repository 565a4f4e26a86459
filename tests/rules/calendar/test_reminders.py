"""What a squad owes, and when a late reminder waits for the morning."""

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.reminders import (
    ON_TIME,
    Debt,
    SquadFacts,
    held_until,
    owed,
    school_days_left,
    squad_facts,
    who_owes,
)
from bot.rules.calendar.school_days import SchoolDays
from storage.records.people import Student
from tests.actions.conftest import START, small_plan

PLAN = small_plan()
NOON = datetime(2027, 1, 12, 17, 0, tzinfo=UTC)  # 12:00 in New York
NIGHT = datetime(2027, 1, 13, 4, 0, tzinfo=UTC)  # 23:00


def member(number: int, account: bool = True, opened: bool = False) -> Student:
    return Student(
        id=number,
        tryout_id=1,
        platform_id=number if account else None,
        name="A",
        section="7-A",
        squad_id=1,
        brief_opened_at=START if opened else None,
    )


def test_a_squad_that_has_everything_owes_nothing() -> None:
    members = [member(1, opened=True), member(2, opened=True), member(3, account=False)]
    assert owed(squad_facts(PLAN, members, may_be_small=False, brief_is_out=True)) == ()


def test_debts_are_counted_and_the_most_pressing_comes_first() -> None:
    members = [member(1, opened=True), member(2)]
    assert owed(squad_facts(PLAN, members, may_be_small=False, brief_is_out=True)) == (
        Debt("members", 1),
        Debt("brief", 1),
    )


def test_before_the_brief_nobody_owes_reading_it() -> None:
    assert owed(squad_facts(PLAN, [member(1), member(2), member(3)], may_be_small=False, brief_is_out=False)) == ()


def test_a_squad_that_may_be_small_owes_no_members_unless_it_is_empty() -> None:
    assert owed(squad_facts(PLAN, [member(1, opened=True)], may_be_small=True, brief_is_out=True)) == ()
    assert owed(squad_facts(PLAN, [], may_be_small=True, brief_is_out=True)) == (Debt("members", 1),)


def test_hand_ins_and_practice_turns_count_only_where_there_are_any() -> None:
    assert owed(SquadFacts(smallest=3, members=3, hand_ins={"Bunting": 1, "Poster": 3}, slots_left=2)) == (
        Debt("slot", 2),
        Debt("hand-in", 2, "Bunting"),
    )


@given(st.builds(SquadFacts, st.integers(1, 9), st.integers(0, 9), st.integers(0, 9), st.integers(0, 9)))
def test_no_debt_is_ever_zero_or_less(facts: SquadFacts) -> None:
    assert all(debt.number > 0 for debt in owed(facts))


def test_what_is_on_time_is_never_held_back() -> None:
    assert held_until(PLAN, NIGHT, NIGHT + ON_TIME) is None
    assert held_until(PLAN, NOON, NOON) is None


def test_what_is_late_by_day_goes_at_once_and_by_night_in_the_morning() -> None:
    assert held_until(PLAN, NOON - timedelta(hours=5), NOON) is None
    assert held_until(PLAN, NOON, NIGHT) == datetime(2027, 1, 13, 12, 0, tzinfo=UTC)


def test_where_there_are_no_quiet_hours_nothing_waits() -> None:
    calendar = PLAN.calendar.model_copy(update={"quiet_from": PLAN.calendar.quiet_until})
    assert held_until(PLAN.model_copy(update={"calendar": calendar}), NOON, NIGHT) is None


def test_school_days_are_counted_without_the_days_on_which_school_is_closed() -> None:
    dates = schedule(PLAN)
    school = SchoolDays(PLAN.calendar)
    days = [day for day in dates.days if school.closed_because(day) is None]
    assert school_days_left(PLAN, dates, dates.deadline) == 0
    assert school_days_left(PLAN, dates, dates.brief) == len(days)


def test_named_are_members_who_can_do_it_themselves_and_have_not() -> None:
    members = [member(1, opened=True), member(2), member(3, account=False)]
    assert who_owes(Debt("brief", 1), members, {}) == (members[1],)
    assert who_owes(Debt("hand-in", 2, "Bunting"), members, {"Bunting": {2}}) == (members[0], members[2])
    assert who_owes(Debt("members", 1), members, {}) == who_owes(Debt("slot", 1), members, {}) == ()
