"""What a judge types into the direct messages: levels one after the other, a comment, or a word that asks."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry, comes_next, last_saved
from bot.rules.judging.score_sheet import LONGEST_COMMENT, WHOLE, missing
from storage.records.people import Judge
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


def can_type(judge: Judge) -> bool:
    """Whether a judge can type marks, and reads in the list where the next number goes: not without direct messages."""
    return judge.direct_closed_at is None


def target(entries: Sequence[Entry], chosen: int | None) -> Entry | None:
    """The sheet into which typed levels go: the one chosen last while something is missing in it, else the next one."""
    for entry in entries:
        if entry.sheet.id == chosen and entry.changeable and missing(entry.rubric, entry.sheet.marks):
            return entry
    return comes_next(entries)


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


def comment_on(mine: Sequence[Entry]) -> tuple[Entry, str]:
    """What a typed comment is about: the sheet that was saved last, and of it the whole or the last line marked.

    Raises Refusal: `typed_no_comment`.
    """
    entry = last_saved(mine)
    if entry is None or not entry.changeable:
        raise Refusal(Reason.TYPED_NO_COMMENT)
    if entry.rubric.comments != "criterion":
        return entry, WHOLE
    marked = [one.key for one in entry.rubric.criteria if one.key in entry.sheet.marks]
    if not marked:
        raise Refusal(Reason.TYPED_NO_COMMENT)
    return entry, marked[-1]


def comment_below(there: str, comment: str) -> str:
    """A typed comment stands below one that is there; nothing of either is cut off.

    Raises Refusal: `typed_comment_long` (room).
    """
    text = "\n".join(filter(None, (there, comment)))
    if len(text) > LONGEST_COMMENT:
        raise Refusal(Reason.TYPED_COMMENT_LONG, room=max(0, LONGEST_COMMENT - len(there) - bool(there)))
    return text


def goes_on(mine: Sequence[Entry], saved: Entry) -> Entry | None:
    """The sheet into which the next level goes once some were typed: the same while it lacks some, else the next."""
    return saved if missing(saved.rubric, saved.sheet.marks) else target(mine, None)


def after_undo(undone: Entry) -> Entry | None:
    """The sheet into which the next level goes after an undo: this one if it lacks some now, else as before (None)."""
    return undone if missing(undone.rubric, undone.sheet.marks) else None


def to_undo(mine: Sequence[Entry]) -> Entry:
    """The sheet whose last change is taken back: the one that was saved last. Raises Refusal `typed_no_undo`."""
    entry = last_saved(mine)
    if entry is None or not entry.changeable:
        raise Refusal(Reason.TYPED_NO_UNDO)
    return entry


def another(mine: Sequence[Entry], now: Entry | None) -> Entry:
    """The sheet of another squad: the one after the present one, round and round. Raises Refusal `typed_nothing`."""
    open_ones = [one for one in mine if one.changeable and one.owed]
    if not open_ones:
        raise Refusal(Reason.TYPED_NOTHING)
    ids = [one.sheet.id for one in open_ones]
    place = ids.index(now.sheet.id) if now is not None and now.sheet.id in ids else -1
    return open_ones[(place + 1) % len(open_ones)]


def check_begins(entry: Entry) -> None:
    """Typed levels go into a sheet that can be marked and lacks some. Raises `judging_shut`, `typed_all_marked`."""
    if not entry.changeable:
        raise Refusal(Reason.JUDGING_SHUT, entered="")
    if not missing(entry.rubric, entry.sheet.marks):
        raise Refusal(Reason.TYPED_ALL_MARKED, squad=entry.squad.name)
