"""What two entries mean alike, and what a sheet says about who was here (common practice, no source)."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.event_day import run_sheet_entry as rules
from bot.rules.event_day.run_sheet_entry import absence_after
from storage.records.plan_measures import Count, Item, Time
from storage.records.scores import Absence

COUNT = Count(key="socks", name="Socks", items=(Item(key="sock", name="Sock"),))
TIME = Time(key="time", name="Time", limit=Decimal(480))
ABSENT = Absence(squad_id=1, event="chain", excused=False, reason="")
EXCUSED = Absence(squad_id=1, event="chain", excused=True, reason="A school trip")


def test_a_sheet_with_nobody_on_it_notes_an_absence_and_takes_none_back() -> None:
    assert absence_after(1, "chain", 0, None) == ABSENT
    assert absence_after(1, "chain", 0, EXCUSED) == EXCUSED


def test_whoever_was_here_is_not_absent_unless_a_coach_has_excused_the_squad() -> None:
    assert absence_after(1, "chain", 3, ABSENT) is None
    assert absence_after(1, "chain", 3, None) is None
    assert absence_after(1, "chain", 3, EXCUSED) == EXCUSED


@given(st.integers(0, 999), st.decimals(0, 99, places=1))
def test_what_was_typed_of_a_count_means_the_same_when_it_is_read_again(socks: int, off: Decimal) -> None:
    fields = rules.with_form(COUNT, 1, 0, {}, {"item-sock": f" {socks} ", "deductions": str(off)})
    assert rules.with_form(COUNT, 1, 0, fields, fields) == fields
    assert (
        rules.differing(fields, rules.with_form(COUNT, 1, 0, {}, {"item-sock": f"0{socks}", "deductions": f"{off}"}))
        == ()
    )


@given(st.integers(1, 3599), st.integers(0, 99), st.integers(0, 9))
def test_what_was_typed_of_a_time_means_the_same_in_minutes_and_in_seconds(
    seconds: int, part: int, faults: int
) -> None:
    forms = [
        {"time": f"{seconds // 60}:{seconds % 60:02}.{part:02}", "faults": str(faults), "finished": "yes"},
        {"time": f"{seconds}.{part:02}", "faults": str(faults), "finished": "yes"},
    ]
    one, other = (rules.with_form(TIME, 1, 0, {}, form) for form in forms)
    assert rules.differing(one, other) == ()
    gone = rules.with_form(TIME, 1, 0, {}, {"time": "", "faults": str(faults), "finished": "no"})
    assert set(rules.differing(one, gone)) == {"time", "finished"}
