"""Who should see whom, and what becomes of sheets that are wanted no more (common practice, no source)."""

from bot.rules.judging.panels import has_begun
from bot.rules.judging.sheets_follow_panels import wanted, wanted_no_more
from storage.records.score_sheets import Sheet


def sheet(state: str, version: int) -> Sheet:
    return Sheet.model_validate(
        {"id": 1, "judge_id": 1, "squad_id": 1, "event": "e", "measure": "m", "state": state, "version": version}
    )


def test_what_is_begun_stays_unless_the_judge_is_tied() -> None:
    fresh, begun, aside = sheet("open", 0), sheet("started", 1), sheet("recused", 1)
    assert [has_begun(one) for one in (fresh, begun, aside)] == [False, True, False]
    assert [wanted_no_more(one, tied=False) for one in (fresh, begun, aside)] == ["taken back", "stays", "stays"]
    assert [wanted_no_more(one, tied=True) for one in (fresh, begun, aside)] == ["set aside", "set aside", "stays"]


def test_all_see_all_unless_squads_were_shared_out_and_nobody_a_squad_in_which_they_know_someone() -> None:
    assert wanted([1, 2], [7, 8], None, {(1, 8)}) == {(1, 7), (2, 7), (2, 8)}
    assert wanted([1, 2], [7, 8], [(1, 7), (2, 8)], {(2, 8)}) == {(1, 7)}
