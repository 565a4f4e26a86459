"""What a student's own page shows and when, and what is read without a squad."""

from datetime import timedelta
from typing import get_args

from bot.rules.squads.my_squad import comes_next, due_is_shown, has_to_read, to_come, why_no_squad
from storage.records.tryout import State
from tests.rules.squads.test_captain import BEGAN, member, squad


def test_the_result_comes_next_from_judging_on_and_can_be_read_once_it_is_announced() -> None:
    said = {state: comes_next(state) for state in get_args(State)}
    assert {state: word for state, word in said.items() if word} == {
        "judging": "result",
        "settled": "result",
        "announced": "read-result",
    }


def test_what_is_due_is_shown_in_the_window_until_the_deadline() -> None:
    assert due_is_shown("window", BEGAN, BEGAN + timedelta(hours=1))
    assert not due_is_shown("window", BEGAN, BEGAN) and not due_is_shown("judging", BEGAN, BEGAN + timedelta(hours=1))
    assert to_come([BEGAN, BEGAN + timedelta(hours=1)], BEGAN) == (BEGAN + timedelta(hours=1),)
    assert not has_to_read(member(1, 1)) and has_to_read(member(1, 1).model_copy(update={"platform_id": 5}))


def test_whose_squad_was_taken_out_reads_so_until_they_look_for_another_one() -> None:
    me = member(1, 1)
    assert why_no_squad(me, squad(None), "signup", True).reason == "squad_taken_out_open"
    assert why_no_squad(me, squad(None), "judging", False).reason == "squad_taken_out"
    looking = me.model_copy(update={"looking": True})
    assert why_no_squad(looking, squad(None), "signup", True).reason == "not_in_squad"
    assert why_no_squad(looking, None, "judging", False).reason == "not_in_squad_known"
    assert why_no_squad(None, None, "judging", False).reason == "not_in_squad_late"
    assert why_no_squad(None, None, "announced", False).reason == "late_over"
