"""What a run sheet says about who was here (common practice, no source)."""

from bot.rules.event_day.run_sheet_entry import absence_after
from storage.records.scores import Absence

ABSENT = Absence(squad_id=1, event="chain", excused=False, reason="")
EXCUSED = Absence(squad_id=1, event="chain", excused=True, reason="A school trip")


def test_a_sheet_with_nobody_on_it_notes_an_absence_and_takes_none_back() -> None:
    assert absence_after(1, "chain", 0, None) == ABSENT
    assert absence_after(1, "chain", 0, EXCUSED) == EXCUSED


def test_whoever_was_here_is_not_absent_unless_a_coach_has_excused_the_squad() -> None:
    assert absence_after(1, "chain", 3, ABSENT) is None
    assert absence_after(1, "chain", 3, None) is None
    assert absence_after(1, "chain", 3, EXCUSED) == EXCUSED
