"""Judges join a timetable that is made: nobody gets into two places, and nobody is lost."""

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.event_day.late_judge_interviews import fit_judges
from storage.records.event_day import DaySlot

NINE = datetime(2027, 1, 22, 14, 0, tzinfo=UTC)
CHANGE = timedelta(minutes=3)


def talk(number: int, squad: int, minute: int, *judges: int) -> DaySlot:
    begins = NINE + timedelta(minutes=minute)
    return DaySlot(
        id=number,
        squad_id=squad,
        kind="interview",
        event="bunting",
        judges=judges,
        begins_at=begins,
        ends_at=begins + timedelta(minutes=10),
    )


def test_a_judge_joins_wherever_nothing_else_is_at_that_time() -> None:
    slots = [talk(1, 1, 0, 5), talk(2, 2, 13, 5), talk(3, 3, 13, 6)]
    wanted = {"bunting": {1: (5, 7), 2: (5, 7), 3: (6, 7)}}
    fitted = fit_judges(slots, wanted, CHANGE, NINE)
    assert [(slot.id, slot.judges) for slot in fitted.changed] == [(1, (5, 7)), (2, (5, 7))]
    assert fitted.left == ((7, 3),)


def test_who_should_meet_a_squad_no_more_leaves_and_makes_room() -> None:
    fitted = fit_judges([talk(1, 1, 0, 5), talk(2, 2, 0, 6)], {"bunting": {1: (6,), 2: (5,)}}, CHANGE, NINE)
    assert [(slot.id, slot.judges) for slot in fitted.changed] == [(1, (6,)), (2, (5,))]


def test_what_is_over_stays_and_a_squad_without_an_interview_is_named() -> None:
    fitted = fit_judges([talk(1, 1, -30, 5)], {"bunting": {1: (6,), 2: (6,)}}, CHANGE, NINE)
    assert fitted.changed == ()
    assert fitted.left == ((6, 2),)


talks = st.lists(
    st.tuples(st.integers(1, 4), st.integers(-3, 8), st.sets(st.integers(1, 4), max_size=3)),
    max_size=6,
    unique_by=lambda one: one[:2],
)


@given(talks, st.dictionaries(st.integers(1, 4), st.sets(st.integers(1, 4)), max_size=4))
def test_nobody_gets_into_two_places_and_everybody_wanted_is_seated_or_named(
    drawn: list[tuple[int, int, set[int]]], panel: dict[int, set[int]]
) -> None:
    slots = [talk(number, squad, 10 * at, *sorted(judges)) for number, (squad, at, judges) in enumerate(drawn, start=1)]
    fitted = fit_judges(slots, {"bunting": panel}, CHANGE, NINE)
    changed = {slot.id: slot for slot in fitted.changed}
    after = [changed.get(slot.id, slot) for slot in slots]
    was = {(slot.id, judge) for slot in slots for judge in slot.judges}
    for one in after:
        for judge in one.judges:
            if (one.id, judge) in was:
                continue
            others = [two for two in after if two.id != one.id and judge in two.judges]
            assert all(abs(one.begins_at - two.begins_at) >= timedelta(minutes=13) for two in others)
    for squad, judges in panel.items():
        mine = [slot for slot in after if slot.squad_id == squad and slot.ends_at > NINE]
        for judge in judges:
            if mine:
                assert all(judge in slot.judges for slot in mine) or (judge, squad) in fitted.left
            elif not any(slot.squad_id == squad for slot in after):
                assert (judge, squad) in fitted.left
    assert all(set(slot.judges) <= panel.get(slot.squad_id, set()) for slot in after if slot.ends_at > NINE)
