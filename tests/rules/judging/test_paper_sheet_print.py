"""Which sheets are printed, and in which order."""

from bot.rules.judging.paper_sheet_print import before_handed_out, handed_out, is_printed
from bot.rules.judging.presentation_order import order_of
from storage.records.score_sheets import Sheet
from tests.words.judging.longest_sheets import EVENTS, JUDGES, SQUADS


def test_a_surprise_is_printed_once_it_is_open_and_before_that_for_the_coach_alone() -> None:
    event = EVENTS[0].model_copy(update={"surprise": True})
    assert [is_printed(event, opened, sealed=False) for opened in ((), {event.key})] == [False, True]
    assert [is_printed(event, opened, sealed=True) for opened in ((), {event.key})] == [True, False]
    assert is_printed(EVENTS[0], (), sealed=False) and not is_printed(EVENTS[0], (), sealed=True)


def test_sheets_stand_as_handed_out_without_those_a_judge_stepped_back_from() -> None:
    states = {5: "open", 3: "recused", 4: "submitted"}
    sheets = [
        Sheet.model_validate({"id": one, "judge_id": 1, "squad_id": one, "event": "e", "measure": "m", "state": state})
        for one, state in states.items()
    ]
    assert handed_out(sheets, "e", "m") == [5, 4] and handed_out(sheets, "e", "other") == []


def test_before_that_they_stand_in_the_order_in_which_they_will_be_handed_out() -> None:
    judge, few = JUDGES[0], SQUADS[:4]
    order = [few[one].id for one in order_of(judge.number, 4)]
    assert before_handed_out(judge, few, (), None) == order
    assert before_handed_out(judge, few, {(order[1], judge.id)}, None) == [order[0], *order[2:]]
    seats = {(few[0].id, judge.id), (few[1].id, judge.id), (few[0].id, JUDGES[1].id)}
    assert before_handed_out(judge, few, {(few[1].id, judge.id)}, seats) == [few[0].id]
