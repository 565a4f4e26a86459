"""While what turns at the practice table are booked, who may book which, and what may be given back."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.practice import booking
from bot.rules.practice.booking import (
    bookable,
    check_book,
    check_give_back,
    last_give_back,
    returnable,
)
from bot.rules.practice.practice_table import PracticeTable
from bot.rules.practice.share_and_leftover_turns import pool_opens, pool_opens_to_all, share_left, share_of_each
from tests.rules.practice.test_practice_table import DAY, EARLY, HOUR, START, table, turn

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


def test_turns_are_booked_in_the_window_and_can_be_seen_after_it() -> None:
    booking.check_running("window", BRIEF)
    booking.check_begun("settled", BRIEF)
    with pytest.raises(Refusal):
        booking.check_running("judging", BRIEF)
    with pytest.raises(Refusal):
        booking.check_begun("signup", BRIEF)


def why_not(found: PracticeTable, squad: int, begin: datetime, now: datetime = EARLY) -> str:
    try:
        check_book(found, squad, begin, now)
    except Refusal as refusal:
        return refusal.reason
    return ""


def test_a_turn_is_booked_once_and_whoever_has_it_is_told_so() -> None:
    found = table(20, 8, turn(START, 1))
    assert why_not(found, 1, START) == "turn_yours"
    assert why_not(found, 2, START) == "turn_taken"
    assert why_not(found, 2, START + HOUR) == "no_such_turn"
    assert why_not(found, 2, START + DAY) == ""
    assert why_not(found, 2, START + DAY, START + DAY) == "turn_over"
    assert why_not(table(20, 8, turn(START, None, "blocked")), 1, START) == "turn_taken"


def test_a_turn_lost_through_equipment_can_be_booked_again() -> None:
    held = table(4, 2, turn(START, 1), turn(START + DAY, 1))
    assert (share_left(held, 1, EARLY), why_not(held, 1, START + 2 * DAY)) == (0, "turns_used")
    lost = table(4, 2, turn(START, 1, "lost"), turn(START + DAY, 1))
    assert (share_left(lost, 1, EARLY), why_not(lost, 1, START + 2 * DAY)) == (1, "")
    assert (share_of_each(lost), lost.lost(1)) == (2, [START])
    assert why_not(lost, 2, START) == "turn_taken"


def test_a_turn_may_be_given_back_until_the_set_hour_by_its_squad_only() -> None:
    found = table(4, 2, turn(START, 1), turn(START + DAY, 1, "lost"))
    last = last_give_back(found, START)
    assert START - last == 2 * HOUR
    check_give_back(found, 1, START, last - timedelta(seconds=1))
    assert returnable(found, 1, last - timedelta(seconds=1)) == [START]
    for squad, begin, now, reason in (
        (1, START, last, "turn_too_close"),
        (2, START, EARLY, "turn_not_yours"),
        (1, START + DAY, EARLY, "turn_not_yours"),
        (1, START + 2 * DAY, EARLY, "turn_not_yours"),
    ):
        with pytest.raises(Refusal) as refusal:
            check_give_back(found, squad, begin, now)
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
        offered = bookable(found, squad, now)
        assert [begin for begin in found.slots if why_not(found, squad, begin, now) == ""] == offered
        assert not set(offered) & set(found.by_begin)
        if len(found.held(squad)) < share_of_each(found):
            assert offered == found.free(now)


@given(tables(), st.integers(0, 24 * 30))
def test_in_its_last_hours_a_free_turn_can_be_had_by_somebody(found: PracticeTable, hours: int) -> None:
    now = EARLY + hours * HOUR
    for begin in found.free(now):
        if now >= pool_opens(found, begin):
            assert any(begin in bookable(found, squad, now) for squad in found.squads)
        if now >= pool_opens_to_all(found, begin):
            assert all(begin in bookable(found, squad, now) for squad in found.squads)


@given(st.integers(1, 9), st.integers(1, 30), st.randoms(use_true_random=False))
def test_however_squads_press_each_can_have_its_share_as_long_as_nothing_is_late(
    squads: int, number: int, random: object
) -> None:
    """Squads press in any order; before the pool opens nobody can take another squad's share away."""
    found = table(number, squads, pool_hours=0)
    presses = [squad for squad in found.squads for _ in range(share_of_each(found) + 1)]
    random.shuffle(presses)  # type: ignore[attr-defined]
    for squad in presses:
        offered = bookable(found, squad, EARLY)
        if offered:
            found = table(number, squads, *found.turns, turn(offered[0], squad), pool_hours=0)
    expected = min(share_of_each(found) * squads, number)
    assert len(found.turns) == expected
    assert max(len(found.held(squad)) for squad in found.squads) <= share_of_each(found)


def test_whoever_has_nothing_to_pick_from_is_told_why() -> None:
    full = table(1, 2, turn(START, 1))
    with pytest.raises(Refusal, match="no_turns_free"):
        booking.to_book(full, 2, EARLY)
    with pytest.raises(Refusal, match="no_turns_mine"):
        booking.to_give_back(full, 2, EARLY)
    assert booking.to_give_back(full, 1, EARLY) == [START] and booking.to_book(table(1, 2), 1, EARLY) == [START]
    with pytest.raises(Refusal, match="no_turns_yet"):
        booking.to_book(table(3, 2, turn(START, 1)), 1, EARLY)
