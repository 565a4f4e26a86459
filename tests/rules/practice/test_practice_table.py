"""Turns at the practice table: which there are, who may book which, what may be given back."""

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.refusal import Refusal
from bot.rules.practice.practice_table import HEAD_START, PracticeTable, slots
from storage.records.plan import Calendar, Plan, Practice
from storage.records.practice import Turn
from tests.actions.conftest import small_plan
from tests.rules.plan_strategies import plans
from tests.rules.reference import reference

TIMES = (time(12, 10), time(15, 40))
DAY, HOUR = timedelta(days=1), timedelta(hours=1)
START = datetime(2027, 1, 12, 17, 10, tzinfo=UTC)  # 12:10 in New York
EARLY = START - 10 * DAY


def plan(practice: Practice | None = None, zone: str = "America/New_York", **calendar: object) -> Plan:
    values = {"brief": datetime.fromisoformat("2027-01-11T15:30"), "counting": "school", **calendar}
    return small_plan(practice=practice or Practice(times=TIMES), calendar=Calendar.model_validate(values), zone=zone)


def begins(of: Plan) -> list[str]:
    """The turns in local time."""
    return [f"{at.astimezone(ZoneInfo(of.zone)):%m-%d %H:%M}" for at in slots(of, schedule(of))]


def turn(begin: datetime, squad: int | None, state: str = "held") -> Turn:
    return Turn.model_validate({"tryout_id": 1, "begins_at": begin, "squad_id": squad, "state": state})


def table(number: int, squads: int, *turns: Turn, **practice: object) -> PracticeTable:
    """So many turns, a day apart, for so many squads."""
    made = Practice.model_validate({"times": TIMES, **practice})
    return PracticeTable(made, tuple(START + n * DAY for n in range(number)), turns, tuple(range(1, squads + 1)))


def why_not(found: PracticeTable, squad: int, begin: datetime, now: datetime = EARLY) -> str:
    try:
        found.check_book(squad, begin, now)
    except Refusal as refusal:
        return refusal.reason
    return ""


def test_ten_school_days_with_two_turns_have_twenty_less_the_one_after_the_deadline() -> None:
    # The trade page counts 10 days x 2 turns; here the last day's 15:40 comes after the deadline of 15:30.
    found = begins(plan())
    assert len(found) == 19
    assert found[:3] == ["01-12 12:10", "01-12 15:40", "01-13 12:10"]
    assert found[-1] == "01-25 12:10"


def test_there_is_no_turn_on_weekends_closed_days_and_holidays_whatever_the_window_counts() -> None:
    of_plan = plan(
        counting="calendar", closed=(date(2027, 1, 13),), holidays={"country": "US"}, days=10
    )  # 18 January: Martin Luther King Jr. Day
    assert [day[:5] for day in begins(of_plan)[::2]] == ["01-12", "01-14", "01-15", "01-19", "01-20", "01-21"]


def test_days_can_be_left_out_at_both_ends() -> None:
    found = begins(plan(Practice(times=TIMES[:1], from_day=2, until_day=4)))
    assert found == ["01-13 12:10", "01-14 12:10", "01-15 12:10"]


def test_half_past_three_stays_half_past_three_when_the_clocks_change() -> None:
    # 14 March 2027: clocks go forward in New York (IANA tz database).
    of_plan = plan(brief=datetime.fromisoformat("2027-03-11T15:30"), days=2)
    found = slots(of_plan, schedule(of_plan))
    assert begins(of_plan) == ["03-12 12:10", "03-12 15:40", "03-15 12:10"]
    assert found[2] - found[0] == 3 * DAY - HOUR


def test_a_turn_the_clocks_jump_over_begins_when_they_do_and_none_overlap() -> None:
    practice = Practice(times=(time(2, 10), time(2, 40), time(3, 10), time(3, 20)))
    of_plan = plan(practice, brief=datetime.fromisoformat("2027-03-13T15:30"), counting="calendar", days=1, weekend=[])
    assert begins(of_plan) == ["03-14 03:00", "03-14 03:20"]


@given(plans())
@settings(max_examples=60, deadline=None)
def test_turns_of_any_plan_lie_in_the_window_on_school_days_and_do_not_overlap(of_plan: Plan) -> None:
    when, school = schedule(of_plan), SchoolDays(of_plan.calendar)
    found = slots(of_plan, when)
    if of_plan.practice is None:
        assert found == ()
        return
    length = timedelta(minutes=of_plan.practice.minutes)
    assert all(later - earlier >= length for earlier, later in pairwise(found))
    for begin in found:
        assert when.brief <= begin and begin + length <= when.deadline
        assert school.closed_because(begin.astimezone(when.zone).date()) is None


@pytest.mark.parametrize(("number", "squads", "share"), [(20, 8, 2), (19, 14, 1), (16, 8, 2), (5, 8, 1), (0, 8, 1)])
def test_the_share_is_the_same_whole_number_for_all(number: int, squads: int, share: int) -> None:
    assert table(number, squads).share == share


def test_the_share_is_the_surest_part_of_the_largest_remainder() -> None:
    # E1d: seven equal squads and 16 turns; the two left over are a tie, which here the pool decides.
    example = reference("E1d")
    sizes, claims = example["expected"]["largest_remainder_sizes"], example["input"]["claims"]
    found = table(example["input"]["seats"], len(claims))
    assert found.share == min(sizes)
    assert len(found.slots) - found.share * len(claims) == sum(size - min(sizes) for size in sizes)


def test_the_plan_may_name_the_share_and_blocked_turns_are_not_shared_out() -> None:
    assert table(20, 8, turns=3).share == 3
    assert table(16, 8, turn(START, None, "blocked")).share == 1


def test_a_turn_is_booked_once_and_whoever_has_it_is_told_so() -> None:
    found = table(20, 8, turn(START, 1))
    assert why_not(found, 1, START) == "turn_yours"
    assert why_not(found, 2, START) == "turn_taken"
    assert why_not(found, 2, START + HOUR) == "no_such_turn"
    assert why_not(found, 2, START + DAY) == ""
    assert why_not(found, 2, START + DAY, START + DAY) == "turn_over"
    assert why_not(table(20, 8, turn(START, None, "blocked")), 1, START) == "turn_taken"


def test_who_has_used_the_share_waits_for_the_pool_and_there_for_those_with_fewer() -> None:
    found = table(20, 8, turn(START, 1), turn(START + DAY, 1))
    free = START + 5 * DAY
    assert why_not(found, 1, free) == "turns_used"
    opens = found.pool_opens(free)
    assert why_not(found, 1, free, opens - timedelta(seconds=1)) == "turns_used"
    assert why_not(found, 1, free, opens) == "pool_first"
    assert why_not(found, 2, free, opens) == ""
    assert why_not(found, 1, free, opens + HEAD_START) == ""


def test_when_all_have_as_many_the_pool_is_open_to_all_at_once() -> None:
    found = table(5, 2, *(turn(START + n * DAY, 1 + n % 2) for n in range(4)))
    free = START + 4 * DAY
    assert why_not(found, 1, free, found.pool_opens(free)) == ""


def test_a_turn_lost_through_equipment_can_be_booked_again() -> None:
    held = table(4, 2, turn(START, 1), turn(START + DAY, 1))
    assert (held.left(1, EARLY), why_not(held, 1, START + 2 * DAY)) == (0, "turns_used")
    lost = table(4, 2, turn(START, 1, "lost"), turn(START + DAY, 1))
    assert (lost.left(1, EARLY), why_not(lost, 1, START + 2 * DAY)) == (1, "")
    assert (lost.share, lost.lost(1)) == (2, [START])
    assert why_not(lost, 2, START) == "turn_taken"


def test_what_is_left_is_never_more_than_what_is_free() -> None:
    assert table(4, 2).left(1, EARLY) == 2
    assert table(4, 2).left(1, START + 2 * DAY) == 1
    assert table(4, 2).left(1, START + 9 * DAY) == 0


def test_a_turn_may_be_given_back_until_the_set_hour_by_its_squad_only() -> None:
    found = table(4, 2, turn(START, 1), turn(START + DAY, 1, "lost"))
    last = found.last_give_back(START)
    assert START - last == 2 * HOUR
    found.check_give_back(1, START, last - timedelta(seconds=1))
    assert found.returnable(1, last - timedelta(seconds=1)) == [START]
    for squad, begin, now, reason in (
        (1, START, last, "turn_too_close"),
        (2, START, EARLY, "turn_not_yours"),
        (1, START + DAY, EARLY, "turn_not_yours"),
        (1, START + 2 * DAY, EARLY, "turn_not_yours"),
    ):
        with pytest.raises(Refusal) as refusal:
            found.check_give_back(squad, begin, now)
        assert refusal.value.reason == reason


@st.composite
def tables(draw: st.DrawFn) -> PracticeTable:
    """Any table that bookings can lead to, and more."""
    number, squads = draw(st.integers(1, 20)), draw(st.integers(1, 9))
    taken = draw(st.dictionaries(st.integers(0, number - 1), st.integers(0, 2 * squads), max_size=number))
    turns = [
        turn(START + n * DAY, None, "blocked")
        if who == 0
        else turn(START + n * DAY, (who - 1) // 2 + 1, ("held", "lost")[who % 2])
        for n, who in taken.items()
    ]
    return table(number, squads, *turns, pool_hours=draw(st.integers(0, 100)))


@given(tables(), st.integers(0, 24 * 30))
def test_what_is_offered_can_be_booked_and_nothing_else_can(found: PracticeTable, hours: int) -> None:
    now = EARLY + hours * HOUR
    for squad in found.squads:
        offered = found.bookable(squad, now)
        assert [begin for begin in found.slots if why_not(found, squad, begin, now) == ""] == offered
        assert not set(offered) & set(found.by_begin)
        if len(found.held(squad)) < found.share:
            assert offered == found.free(now)


@given(tables(), st.integers(0, 24 * 30))
def test_in_its_last_hours_a_free_turn_can_be_had_by_somebody(found: PracticeTable, hours: int) -> None:
    now = EARLY + hours * HOUR
    for begin in found.free(now):
        if now >= found.pool_opens(begin):
            assert any(begin in found.bookable(squad, now) for squad in found.squads)
        if now >= found.pool_opens_to_all(begin):
            assert all(begin in found.bookable(squad, now) for squad in found.squads)


@given(st.integers(1, 9), st.integers(1, 30), st.randoms(use_true_random=False))
def test_however_squads_press_each_can_have_its_share_as_long_as_nothing_is_late(
    squads: int, number: int, random: object
) -> None:
    """Squads press in any order; before the pool opens nobody can take another squad's share away."""
    found = table(number, squads, pool_hours=0)
    presses = [squad for squad in found.squads for _ in range(found.share + 1)]
    random.shuffle(presses)  # type: ignore[attr-defined]
    for squad in presses:
        offered = found.bookable(squad, EARLY)
        if offered:
            found = table(number, squads, *found.turns, turn(offered[0], squad), pool_hours=0)
    expected = min(found.share * squads, number)
    assert len(found.turns) == expected
    assert max(len(found.held(squad)) for squad in found.squads) <= found.share
