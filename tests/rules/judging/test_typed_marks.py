"""What judges type is understood or answered with help, never guessed."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.typed_marks import Typed, after_undo, goes_on, marks_of, read_typed, target
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Criterion, Rubric
from storage.records.score_sheets import Sheet

RUBRIC = Rubric(
    key="r",
    name="Rubric",
    criteria=tuple(Criterion(key=f"c{number}", name=f"C {number}", levels=("a", "b", "c", "d")) for number in range(3)),
)
EVENT = Event(key="e", name="Event", weight=Decimal(1), measures=(RUBRIC,))
NOW = datetime(2027, 1, 4, tzinfo=UTC)


def entry(number: int, marks: dict[str, int], changeable: bool = True) -> Entry:
    state = "submitted" if len(marks) == 3 else "started" if marks else "open"
    sheet = Sheet.model_validate(
        {
            "id": number, "judge_id": 1, "squad_id": number, "event": "e", "measure": "r", "state": state,
            "marks": marks, "version": len(marks), "updated_at": NOW if marks else None,
        }
    )  # fmt: skip
    squad = Squad(
        id=number, tryout_id=1, number=number, name=f"Squad {number}", section="7", captain_id=None, join_code="x",
        created_at=NOW,
    )  # fmt: skip
    return Entry(sheet, squad, EVENT, RUBRIC, changeable)


@pytest.mark.parametrize(
    ("text", "levels"),
    [
        ("3", (3,)),
        (" 3 4 2 ", (3, 4, 2)),
        ("3,4, 2", (3, 4, 2)),
        ("3 / 4;2.", (3, 4, 2)),
        ("3 4 2 .", (3, 4, 2)),
        ("10", (10,)),
        ("3\n4", (3, 4)),
    ],
)
def test_levels_are_read_one_after_the_other(text: str, levels: tuple[int, ...]) -> None:
    assert read_typed(text) == Typed("levels", levels)


@pytest.mark.parametrize(
    "text", ["342", "3.5", "-1", "3-4", "three", "3 and 4", "²", "hello", "", "comment", "commentary"]
)
def test_what_could_be_meant_in_two_ways_is_not_taken(text: str) -> None:
    assert read_typed(text).asked == "help"


def test_words_and_comments_are_understood() -> None:
    assert [read_typed(text).asked for text in ("Undo", "back", "next.", "LIST", "My  sheets")] == [
        "undo", "undo", "next", "list", "list",
    ]  # fmt: skip
    assert read_typed("Comment: 3 good ideas\nwell drawn").comment == "3 good ideas\nwell drawn"
    assert read_typed("comment they explained it").comment == "they explained it"


def test_numbers_go_to_the_lines_that_are_not_marked_yet() -> None:
    assert [(one.key, level) for one, level in marks_of(entry(1, {"c0": 1}), (4, 2))] == [("c1", 4), ("c2", 2)]


@pytest.mark.parametrize(
    ("levels", "reason"), [((1, 2, 3, 4), "typed_too_many"), ((1, 5), "typed_level"), ((0,), "typed_level")]
)
def test_numbers_that_cannot_be_right_are_refused_as_a_whole(levels: tuple[int, ...], reason: str) -> None:
    with pytest.raises(Refusal, match=reason):
        marks_of(entry(1, {}), levels)


def test_numbers_go_to_the_chosen_sheet_else_to_the_one_begun_else_to_the_next() -> None:
    mine = [entry(1, {}), entry(2, {"c0": 1}), entry(3, {}), entry(4, {"c0": 1, "c1": 1, "c2": 1})]
    assert target(mine, 3) == mine[2]
    assert target(mine, None) == mine[1]
    assert target([mine[0], mine[2]], None) == mine[0]
    assert target(mine, 4) == mine[1]
    assert target(mine[3:], 4) is None
    assert target([entry(5, {}, changeable=False)], 5) is None


def test_the_next_number_goes_on_in_the_same_sheet_while_it_lacks_some_else_in_the_next() -> None:
    begun, whole, untouched = entry(1, {"c0": 1}), entry(2, {"c0": 1, "c1": 1, "c2": 1}), entry(3, {})
    mine = [begun, whole, untouched]
    assert (goes_on(mine, begun), goes_on([whole, untouched], whole)) == (begun, untouched)
    assert goes_on([whole], whole) is None
    assert (after_undo(begun), after_undo(whole)) == (begun, None)
