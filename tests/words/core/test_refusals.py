"""Every way of saying no has its line."""

import sys

from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.words.core.refusals import lines


def test_every_reason_has_its_line() -> None:
    assert set(lines()) == {*Reason, *DayReason, *ResultReason, *TableReason}


def test_every_line_fits_a_message_and_ends_a_sentence() -> None:
    for line in lines().values():
        assert len(line) <= 400
        assert line[0].isupper() or line.startswith(("**", "{"))
        assert line.endswith((".", "}.", "?"))


def test_what_leads_on_from_a_refusal_stands_in_the_module_that_has_its_line() -> None:
    lines()
    words = [module for name, module in sys.modules.items() if name.startswith("bot.words.")]
    apart = [
        f"{module.__name__}: {reason}"
        for module in words
        for reason in getattr(module, "LEAD_ON", {})
        if reason not in getattr(module, "REFUSALS", {})
    ]
    assert apart == []
