"""Who excuses a squad, and with what (common practice, no source)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scorekeeping.absences import LONGEST_REASON, read_absence
from storage.records.scores import Absence

EXCUSED = Absence(squad_id=1, event="run", excused=True, reason="ill")


def test_only_a_coach_excuses_and_only_with_a_reason() -> None:
    assert read_absence(1, "run", "excused", " ill ", None, is_coach=True) == EXCUSED
    with pytest.raises(Refusal, match="only_coach_excuses"):
        read_absence(1, "run", "excused", "ill", None, is_coach=False)
    with pytest.raises(Refusal, match="absence_reason"):
        read_absence(1, "run", "excused", " ", None, is_coach=True)


def test_what_a_coach_excused_only_a_coach_changes() -> None:
    assert read_absence(1, "run", "here", "", EXCUSED, is_coach=True) is None
    for state in ("here", "absent"):
        with pytest.raises(Refusal, match="only_coach_excuses"):
            read_absence(1, "run", state, "", EXCUSED, is_coach=False)


def test_a_scorekeeper_notes_that_a_squad_is_absent() -> None:
    noted = read_absence(1, "run", "absent", "x" * 999, None, is_coach=False)
    assert noted is not None
    assert (noted.excused, len(noted.reason)) == (False, LONGEST_REASON)
