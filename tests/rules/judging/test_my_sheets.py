"""In which groups a judge reads the own sheets, and which squad has just been seen (common practice, no source)."""

from datetime import timedelta

from bot.rules.judging.my_sheets import JUST_RAN, Entry, group_of, is_there, just_ran
from storage.records.score_sheets import Sheet
from tests.actions.conftest import START, small_plan
from tests.words.invented import squad


def entry(number: int, state: str) -> Entry:
    event = next(one for one in small_plan().events if any(measure.kind == "rubric" for measure in one.measures))
    rubric = next(measure for measure in event.measures if measure.kind == "rubric")
    of = {"judge_id": 1, "squad_id": number, "event": event.key, "measure": rubric.key}
    sheet = Sheet.model_validate({"id": number, "state": state, **of})
    return Entry(sheet, squad(number, f"Squad {number}"), event, rubric, changeable=True)


def test_a_sheet_is_done_started_or_open_and_one_that_a_judge_stepped_back_from_is_in_no_group() -> None:
    sheets = [entry(number, state) for number, state in enumerate(("open", "submitted", "recused", "started", "open"))]
    assert list(map(group_of, sheets)) == ["open", "done", None, "started", "open"]


def test_a_squad_has_just_been_seen_for_some_minutes_after_its_attempt() -> None:
    assert just_ran(START, START) and just_ran(START, START + JUST_RAN)
    assert not just_ran(START, START + JUST_RAN + timedelta(seconds=1)) and not just_ran(START + JUST_RAN, START)


def test_a_squad_is_not_marked_in_an_event_from_which_it_was_absent() -> None:
    assert is_there(1, "run", {(1, "chain"), (2, "run")}) and not is_there(2, "run", {(2, "run")})
