"""The board of squads: how many messages it needs at most, known without writing it."""

from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from bot.words.squads.roster_board import boards, most_boards
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from tests.rules.plan_samples import plan
from tests.words.invented import squad

NOW = datetime(2027, 1, 12, tzinfo=UTC)
NAMES = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S")), min_size=1, max_size=40)
MARKED = st.sampled_from(["*" * 40, "a_b" * 13, "Moles"])


def plan_for(sections: tuple[str, ...]) -> Plan:
    return plan().model_copy(update={"sections": sections})


def student(number: int, name: str, section: str, looking: bool) -> Student:
    return Student(id=number, tryout_id=1, platform_id=number, name=name, section=section, looking=looking)


@st.composite
def rosters(draw: st.DrawFn) -> tuple[Plan, list[tuple[Squad | None, list[Student]]]]:
    sections = tuple(f"Section {number}" for number in range(draw(st.integers(1, 25))))
    plan = plan_for(sections)
    rows: list[tuple[Squad | None, list[Student]]] = []
    for number in range(1, draw(st.integers(0, 60)) + 1):
        section = draw(st.sampled_from(sections))
        people = [
            student(number * 100 + place, draw(NAMES | MARKED), section, False)
            for place in range(draw(st.integers(1, 5)))
        ]
        rows.append((squad(number, draw(NAMES | MARKED), section, number * 100), people))
    alone = [
        student(place, draw(NAMES | MARKED), draw(st.sampled_from(sections)), draw(st.booleans()))
        for place in range(draw(st.integers(0, 30)))
    ]
    return plan, [*rows, (None, alone)]


@given(rosters())
def test_the_board_never_needs_more_messages_than_its_size_allows(
    given_roster: tuple[Plan, list[tuple[Squad | None, list[Student]]]],
) -> None:
    plan, roster = given_roster
    found = [one for one, _ in roster if one is not None]
    people = [one for _, members in roster for one in members]
    letters = sum(len(one.name) for one in found) + sum(len(one.name) for one in people)
    needed = len(boards(plan, roster))
    assert needed <= most_boards(plan, len(found), len(people), letters)
    assert most_boards(plan, len(found), len(people), letters) <= 4 * needed + 3


def test_sections_that_just_do_not_fit_together_leave_every_message_half_empty() -> None:
    """The worst case: each section fills a little more than half a message, with the shortest names there are."""
    sections = tuple("ABCDEFGHIJKL")
    roster: list[tuple[Squad | None, list[Student]]] = [
        (
            squad(number, "Xy", sections[number % 12], number * 100),
            [student(number * 100, "Al", sections[number % 12], False)],
        )
        for number in range(1, 12 * 27 + 1)
    ]
    needed = len(boards(plan_for(sections), roster))
    assert needed >= 12
    assert most_boards(plan_for(sections), len(roster), len(roster), 4 * len(roster)) >= needed


def test_a_usual_class_has_one_message_or_two_to_spare() -> None:
    plan = plan_for(("7-A", "7-B", "7-C", "8-A", "8-B"))
    assert most_boards(plan, 0, 0, 0) == 1
    assert most_boards(plan, 14, 60, 14 * 12 + 60 * 14) == 3
