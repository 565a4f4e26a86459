"""Paper sheets are typed in twice by two people (common practice in data entry: double keying)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.paper_sheet_entry import (
    MOST_TO_SETTLE,
    both,
    differences,
    gone_on_from,
    may_see_marks,
    next_entry,
    stands_in_form,
    to_settle,
    what_counts,
)
from storage.records.judging import PaperEntry
from storage.records.plan_measures import Criterion, Rubric
from tests.actions.conftest import START
from tests.words.judging.longest_sheets import JUDGES, MINE

LEVELS = ("none", "some", "all")
RUBRIC = Rubric(
    key="r", name="Rubric", criteria=tuple(Criterion(key=one, name=one.upper(), levels=LEVELS) for one in "abcdefg")
)
KIM, LEE = 7, 8


def typed(number: int, who: int, marks: str) -> PaperEntry:
    found = {key: int(level) for key, level in zip("abcdefg", marks, strict=False)}
    return PaperEntry(sheet_id=1, number=number, entered_by=who, at=START, marks=found)


def test_the_second_entry_follows_a_whole_first_one_and_is_somebody_elses() -> None:
    assert next_entry(RUBRIC, [], KIM) == next_entry(RUBRIC, [typed(1, KIM, "111")], LEE) == 1
    assert next_entry(RUBRIC, [typed(1, KIM, "1111111")], LEE) == 2
    with pytest.raises(Refusal, match="paper_two_people"):
        next_entry(RUBRIC, [typed(1, KIM, "1111111")], KIM)


def test_what_somebody_types_is_added_to_the_own_entry_and_never_to_half_of_anothers() -> None:
    half, whole = typed(1, KIM, "111"), typed(1, KIM, "1111111")
    assert gone_on_from(RUBRIC, 1, {1: half}, KIM) == half
    assert gone_on_from(RUBRIC, 1, {1: half}, LEE) is None
    assert gone_on_from(RUBRIC, 2, {1: whole}, LEE) is None
    for number, kept, who, reason in (
        (1, {1: whole}, LEE, "paper_old"),
        (2, {1: half}, LEE, "paper_old"),
        (2, {1: whole}, KIM, "paper_two_people"),
    ):
        with pytest.raises(Refusal, match=reason):
            gone_on_from(RUBRIC, number, kept, who)


def test_what_differs_is_settled_line_by_line_unless_one_entry_is_of_another_sheet() -> None:
    first = typed(1, KIM, "1111111")
    few = differences(RUBRIC, *both(RUBRIC, [first, typed(2, LEE, "1211113")]))
    assert [(one.key, here, there) for one, here, there in few] == [("b", 1, 2), ("g", 1, 3)]
    assert [one.key for one in to_settle(few)] == ["b", "g"]
    many = differences(RUBRIC, first, typed(2, LEE, "2" * (MOST_TO_SETTLE + 1) + "1"))
    for found in ([], many):
        with pytest.raises(Refusal, match="paper_old"):
            to_settle(found)
    with pytest.raises(Refusal, match="paper_old"):
        both(RUBRIC, [first, typed(2, LEE, "111")])


def test_a_form_opens_with_what_the_same_person_has_typed_and_what_counts_has_the_first_comments() -> None:
    first = typed(1, KIM, "111").model_copy(update={"comments": {"sheet": "Clear."}})
    assert stands_in_form([first], 1, KIM) == first.marks and stands_in_form([first], 1, LEE) == {}
    assert what_counts(first, typed(2, LEE, "123"), {"c": 2}) == ({"a": 1, "b": 2, "c": 2}, {"sheet": "Clear."})


def test_who_judges_too_sees_the_marks_of_a_squad_once_the_own_sheet_is_in() -> None:
    owing = next(one for one in MINE if one.owed)
    other, me = JUDGES[1], JUDGES[0].platform_id
    assert not may_see_marks(other, me, MINE, owing.squad.id)
    assert may_see_marks(other, me, [], owing.squad.id) and may_see_marks(JUDGES[0], me, MINE, owing.squad.id)
