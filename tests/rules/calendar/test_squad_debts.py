"""What a squad still owes, and who has to do it."""

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.squad_debts import Debt, SquadFacts, owed, squad_facts, who_owes, work_is_owed
from storage.records.people import Student
from tests.actions.conftest import START, small_plan

PLAN = small_plan()


def member(number: int, account: bool = True, opened: bool = False) -> Student:
    return Student(
        id=number,
        tryout_id=1,
        platform_id=number if account else None,
        name="A",
        section="7-A",
        squad_id=1,
        brief_opened_at=START if opened else None,
    )


def test_a_squad_that_has_everything_owes_nothing() -> None:
    members = [member(1, opened=True), member(2, opened=True), member(3, account=False)]
    assert owed(squad_facts(PLAN, members, may_be_small=False, brief_is_out=True)) == ()


def test_debts_are_counted_and_the_most_pressing_comes_first() -> None:
    members = [member(1, opened=True), member(2)]
    assert owed(squad_facts(PLAN, members, may_be_small=False, brief_is_out=True)) == (
        Debt("members", 1),
        Debt("brief", 1),
    )


def test_before_the_brief_nobody_owes_reading_it() -> None:
    assert owed(squad_facts(PLAN, [member(1), member(2), member(3)], may_be_small=False, brief_is_out=False)) == ()


def test_a_squad_that_may_be_small_owes_no_members_unless_it_is_empty() -> None:
    assert owed(squad_facts(PLAN, [member(1, opened=True)], may_be_small=True, brief_is_out=True)) == ()
    assert owed(squad_facts(PLAN, [], may_be_small=True, brief_is_out=True)) == (Debt("members", 1),)


def test_hand_ins_and_practice_turns_count_only_where_there_are_any() -> None:
    assert owed(SquadFacts(smallest=3, members=3, hand_ins={"Bunting": 1, "Poster": 3}, slots_left=2)) == (
        Debt("slot", 2),
        Debt("hand-in", 2, "Bunting"),
    )


def test_hand_ins_and_practice_turns_are_owed_from_the_brief_to_the_deadline() -> None:
    assert work_is_owed("window")
    assert not work_is_owed("signup")
    assert not work_is_owed("judging")


@given(st.builds(SquadFacts, st.integers(1, 9), st.integers(0, 9), st.integers(0, 9), st.integers(0, 9)))
def test_no_debt_is_ever_zero_or_less(facts: SquadFacts) -> None:
    assert all(debt.number > 0 for debt in owed(facts))


def test_named_are_members_who_can_do_it_themselves_and_have_not() -> None:
    members = [member(1, opened=True), member(2), member(3, account=False)]
    assert who_owes(Debt("brief", 1), members, {}) == (members[1],)
    assert who_owes(Debt("hand-in", 2, "Bunting"), members, {"Bunting": {2}}) == (members[0], members[2])
    assert who_owes(Debt("members", 1), members, {}) == who_owes(Debt("slot", 1), members, {}) == ()
