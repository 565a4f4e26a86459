"""Plan files too large, too deep or with too long names: refused before they are parsed, so that none keeps us busy.

All of it takes time linear in the file. Real plans stay far within: the built-in one has 12 kB, keys of three parts,
and brackets two deep.
"""

import re
from decimal import Decimal

from bot.rules.plan.plan_line_numbers import TOKEN
from bot.rules.plan.plan_problems import BadPlan, PlanProblem

LARGEST = 500_000
"""Bytes; no plan that people write comes near."""
DEEPEST = 12
"""Brackets within brackets."""
LONGEST_NAME = 100
"""Characters of a key, a number or a date."""
MOST_PARTS = 8
"""Parts of a key with dots."""
_LONG = re.compile(rf"[A-Za-z0-9_+-]{{{LONGEST_NAME + 1}}}")
_DOTTED = re.compile(rf"(?:(?:[A-Za-z0-9_-]+|~)[ \t]*\.[ \t]*){{{MOST_PARTS}}}")
_BIGGEST_EXPONENT = 20
_FAR = Decimal("Infinity")


def check_size(toml: str | bytes) -> None:
    """Raise BadPlan `file_too_large` where a file is larger than any plan."""
    if len(toml) > LARGEST:
        raise BadPlan((PlanProblem((), "file_too_large", len(toml), {"most": LARGEST}),))


def check_bounds(toml: str) -> None:
    """Raise BadPlan `too_deep` or `too_long_name`, with the line, where the parser would be kept busy."""
    depth = 0
    bare: list[str] = []
    start = 0
    for token in TOKEN.finditer(toml):
        text = token[0]
        if text in "[{":
            depth += 1
            if depth > DEEPEST:
                raise BadPlan((PlanProblem((), "too_deep", line=_line(toml, token.start())),))
        elif text in "]}":
            depth = max(depth - 1, 0)
        elif text != "\n":
            # A text or a remark: what is in it is free; a text may be the part of a key. Its lines are kept.
            bare += (toml[start : token.start()], "" if text.startswith("#") else "~", "\n" * text.count("\n"))
            start = token.end()
    names = "".join([*bare, toml[start:]])
    for kind, pattern in (("too_long_name", _LONG), ("too_deep", _DOTTED)):
        if found := pattern.search(names):
            raise BadPlan((PlanProblem((), kind, line=_line(names, found.start())),))


def number(text: str) -> Decimal:
    """A number with a decimal point or exponent; one too far from any score becomes infinite, and is told as such."""
    value = Decimal(text)
    return value if not value.is_finite() or not value or abs(value.adjusted()) <= _BIGGEST_EXPONENT else _FAR


def _line(text: str, place: int) -> int:
    return text.count("\n", 0, place) + 1
