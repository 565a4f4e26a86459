"""The first round with a lot: booking waits, each squad has its moment, and nobody waits for ever."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.practice.booking import bookable, opens_again
from bot.rules.practice.first_round_draw import STEP, WAIT, check_draw, opens_for, order, read_key, round_ends, why_wait
from bot.rules.practice.practice_table import PracticeTable
from bot.rules.practice.random_draw import draw
from storage.records.plan import Practice
from storage.records.practice import PracticeDraw

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
DRAWN = BRIEF + timedelta(hours=19)


def lot(*pool: int, key: str | None = "1.2.4.4.6./") -> PracticeDraw:
    drawn_at = None if key is None else DRAWN
    return PracticeDraw(tryout_id=1, pool=pool, published_at=BRIEF, key=key, drawn_at=drawn_at)


def why(of: PracticeDraw, squad: int, turns: int, now: datetime) -> str:
    found = why_wait(of, squad, turns, now)
    return "" if found is None else found.reason


def test_before_the_lot_is_drawn_all_wait_and_after_a_day_nobody_does() -> None:
    waiting = lot(1, 2, 3, key=None)
    assert why(waiting, 1, 0, BRIEF) == why(waiting, 9, 0, BRIEF + WAIT - timedelta(seconds=1)) == "draw_waits"
    assert why(waiting, 1, 5, BRIEF + WAIT) == ""
    assert order(waiting) == ()


@given(st.lists(st.integers(1, 99), min_size=1, max_size=20, unique=True), st.text("0123456789", min_size=1))
def test_each_has_its_moment_in_the_order_drawn_then_the_usual_rules_count(pool: list[int], dice: str) -> None:
    found = lot(*pool, key=read_key(dice))
    assert order(found) == draw(pool, f"{dice}./")
    for place, squad in enumerate(order(found)):
        opens = DRAWN + place * STEP
        assert opens_for(found, squad) == opens
        assert why(found, squad, 0, opens) == ""
        assert why(found, squad, 1, opens) == "draw_one_each"
        if place:
            assert why(found, squad, 0, opens - timedelta(seconds=1)) == "draw_order"
        assert why(found, squad, 7, round_ends(found)) == ""
    assert round_ends(found) == DRAWN + len(pool) * STEP


@pytest.mark.parametrize("seconds", [0, 1, 17, 59.9])
def test_moments_are_full_minutes_because_phones_show_no_seconds(seconds: float) -> None:
    drawn = lot(1, 2, 3).model_copy(update={"drawn_at": DRAWN + timedelta(seconds=seconds)})
    assert [opens_for(drawn, squad) for squad in order(drawn)] == [DRAWN, DRAWN + STEP, DRAWN + 2 * STEP]
    assert round_ends(drawn) == DRAWN + 3 * STEP


def test_a_squad_that_came_after_the_list_waits_for_the_end_of_the_round() -> None:
    found = lot(1, 2)
    assert why(found, 9, 0, DRAWN + STEP) == "draw_order"
    assert why(found, 9, 0, DRAWN + 2 * STEP) == ""


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("4 4 1 6 2", "1.2.4.4.6./"),
        (" 9319 / 12,2,8,5,10 / 45 9 18 26 34 41 ", "9319./2.5.8.10.12./9.18.26.34.41.45./"),
        ("Blue whale", "Blue.whale./"),
        ("10 9", "9.10./"),
    ],
)
def test_a_key_is_read_as_rfc_3797_writes_it(typed: str, key: str) -> None:
    assert read_key(typed) == key


@pytest.mark.parametrize("typed", ["", "  / ", "...", "²", "4\u200b4", "x" * 201, "`rm`"])
def test_what_is_no_key_is_refused(typed: str) -> None:
    with pytest.raises(Refusal, match="draw_key"):
        read_key(typed)


def test_it_is_drawn_once_and_only_while_all_wait() -> None:
    waiting = lot(1, 2, key=None)
    assert check_draw(waiting, BRIEF) is waiting
    for found, now, reason in (
        (None, BRIEF, "no_draw"),
        (lot(1, 2), DRAWN, "drawn_already"),
        (waiting, BRIEF + WAIT, "draw_too_late"),
    ):
        with pytest.raises(Refusal, match=reason):
            check_draw(found, now)


def test_a_lot_drawn_within_a_second_still_says_when_a_squad_may_book() -> None:
    """Presses carry milliseconds, and refusals whole seconds: the moment named lies just before the squad's own."""
    drawn = lot(1, 2, 3).model_copy(update={"drawn_at": BRIEF + timedelta(hours=1, milliseconds=224)})
    turns = tuple(BRIEF + timedelta(days=day) for day in (2, 3))
    practice = Practice.model_validate({"times": ("12:10",), "first_round": "draw"})
    table = PracticeTable(practice, turns, (), (1, 2, 3), drawn)
    now = BRIEF + timedelta(hours=1, seconds=1)
    for squad in (1, 2, 3):
        again = opens_again(table, squad, now)
        assert (again is None) == bool(bookable(table, squad, now))
        if again is not None:
            assert bookable(table, squad, again)
            assert again - opens_for(drawn, squad) <= timedelta(seconds=1)
