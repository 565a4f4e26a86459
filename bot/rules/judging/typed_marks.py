"""What a judge types into the direct messages: levels one after the other, a comment, or a word that asks."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry, go_on, next_open
from bot.rules.judging.score_sheet import missing
from storage.records.plan_measures import Criterion

Asked = Literal["levels", "comment", "undo", "next", "list", "help"]

_LEVELS = re.compile(r"\d{1,2}(?:[\s,;/]+\d{1,2})*")
_COMMENT = re.compile(r"(?:comment|note)\b\s*[:\-]?\s*(.*)", re.IGNORECASE | re.DOTALL)
_WORDS: dict[str, Asked] = {
    "undo": "undo", "back": "undo",
    "next": "next", "skip": "next",
    "list": "list", "sheets": "list", "my sheets": "list",
}  # fmt: skip


@dataclass(frozen=True)
class Typed:
    """What was typed, understood; anything else is a call for help."""

    asked: Asked
    levels: tuple[int, ...] = ()
    comment: str = ""


def read_typed(text: str) -> Typed:
    """Understand what a judge typed; never guess."""
    words = " ".join(text.split()).rstrip(" .!").lower()
    if _LEVELS.fullmatch(words):
        return Typed("levels", tuple(int(level) for level in re.findall(r"\d+", words)))
    if words in _WORDS:
        return Typed(_WORDS[words])
    comment = _COMMENT.fullmatch(text.strip())
    if comment and comment[1].strip():
        return Typed("comment", comment=comment[1].strip())
    return Typed("help")


def target(entries: Sequence[Entry], chosen: int | None) -> Entry | None:
    """The sheet into which typed levels go: the one chosen last while something is missing in it, else the next one."""
    for entry in entries:
        if entry.sheet.id == chosen and entry.changeable and missing(entry.rubric, entry.sheet.marks):
            return entry
    return go_on(entries) or next_open(entries)


def marks_of(entry: Entry, levels: Sequence[int]) -> list[tuple[Criterion, int]]:
    """The criteria that the levels are for, in order: those that are not marked yet.

    Raises Refusal: `typed_too_many` (squad, left, given), `typed_level` (criterion, level, most).
    """
    left = missing(entry.rubric, entry.sheet.marks)
    if len(levels) > len(left):
        raise Refusal(Reason.TYPED_TOO_MANY, squad=entry.squad.name, left=len(left), given=len(levels))
    for criterion, level in zip(left, levels, strict=False):
        if not 1 <= level <= len(criterion.levels):
            raise Refusal(Reason.TYPED_LEVEL, criterion=criterion.name, level=level, most=len(criterion.levels))
    return list(zip(left, levels, strict=False))
