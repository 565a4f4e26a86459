"""Every way of saying no has its line."""

from bot.rules.core.class_reasons import ClassReason
from bot.rules.core.day_reasons import DayReason
from bot.rules.core.reasons import Reason
from bot.words.core.refusals import LINES


def test_every_reason_has_its_line() -> None:
    assert set(LINES) == {*Reason, *ClassReason, *DayReason}


def test_every_line_fits_a_message_and_ends_a_sentence() -> None:
    for line in LINES.values():
        assert len(line) <= 400
        assert line[0].isupper() or line.startswith(("**", "{"))
        assert line.endswith((".", "}.", "?"))
