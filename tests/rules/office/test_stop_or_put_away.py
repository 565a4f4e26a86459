"""When a try-out can be put away, and when the class hears of it."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from bot.rules.office.stop_or_put_away import class_is_told, forbidden_by, lacks
from storage.records.tryout import State
from tests.rules.calendar.ready_for_each_step import READY, kinds

END = datetime(2027, 2, 3, 23, 0, tzinfo=UTC)


def test_as_long_as_squads_can_question_the_result_a_tryout_cannot_be_put_away() -> None:
    before = END - timedelta(seconds=1)
    assert forbidden_by("announced", 0, END, before) == ("protests",)
    assert forbidden_by("announced", 1, END, before) == ("protests_open", "protests")
    assert forbidden_by("announced", 1, END, END) == ("protests_open",)
    assert forbidden_by("announced", 0, END, END) == ()


def test_without_a_result_it_can_be_put_away_at_any_time() -> None:
    states: tuple[State, ...] = ("drafting", "signup", "window", "judging", "settled")
    assert [forbidden_by(state, 0, None, END) for state in states] == [()] * 5


def test_the_class_is_told_unless_it_knows_nothing_yet_or_everything() -> None:
    states: tuple[State, ...] = ("drafting", "signup", "window", "judging", "settled", "announced")
    assert [class_is_told(state) for state in states] == [False, True, True, True, True, False]


def test_protests_stand_in_the_way_until_their_days_are_over_and_no_result_is_worth_knowing() -> None:
    announced = replace(READY, state="announced")
    after = announced.now + timedelta(days=1)
    assert kinds(lacks(replace(READY, state="judging"))) == [("not_announced", False)]
    assert kinds(lacks(replace(announced, protests_end=after))) == [("protests", True)]
    assert kinds(lacks(replace(announced, protests_end=after, protests=1))) == [
        ("protests_open", True), ("protests", True),
    ]  # fmt: skip
    assert kinds(lacks(replace(announced, protests_end=announced.now))) == []
