"""Every way of saying no has its line."""

import re
from pathlib import Path

from bot.words.core.refusals import LINES, SUBJECTS

CODE = Path(__file__).parents[3] / "bot"


def test_every_reason_in_the_code_has_exactly_one_line() -> None:
    reasons = {
        reason
        for file in CODE.rglob("*.py")
        for reason in re.findall(r"""Refusal\(\s*f?["']([a-z_]+)["']""", file.read_text("utf-8"))
    }
    assert reasons - LINES.keys() == set()
    assert sum(map(len, SUBJECTS)) == len(LINES)


def test_every_line_fits_a_message_and_ends_a_sentence() -> None:
    for line in LINES.values():
        assert len(line) <= 400
        assert line[0].isupper() or line.startswith(("**", "{"))
        assert line.endswith((".", "}.", "?"))
