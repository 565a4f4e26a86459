"""The plan of the event day as a coach types it into its form: how lessons, breaks and numbers are read."""

import re
from datetime import time
from typing import Any

from bot.rules.core.parse_typed import read_clock, read_date
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.day_plan import Break, Lesson

_HOURS = r"(\d{1,2}[:.h]\d{2})\s*(?:-|–|to)\s*(\d{1,2}[:.h]\d{2})"
_LESSON = re.compile(rf"(?P<section>.+?)\s+(?:(?P<date>\d{{4}}-\d{{2}}-\d{{2}})\s+)?{_HOURS}")
_BREAK = re.compile(_HOURS)


def read_lessons(text: str) -> tuple[Lesson, ...]:
    """Lessons such as `7 Ash 8:00-8:45`, one a line; Refusal `typed_lesson` (typed)."""
    found = []
    for line in filter(None, map(str.strip, text.splitlines())):
        parts = _LESSON.fullmatch(line)
        if parts is None:
            raise Refusal(Reason.TYPED_LESSON, typed=line[:100])
        try:
            begins, ends = read_clock(parts[3]), read_clock(parts[4])
            on = read_date(parts["date"]) if parts["date"] else None
        except Refusal:
            raise Refusal(Reason.TYPED_LESSON, typed=line[:100]) from None
        found.append(Lesson(section=parts["section"][:30], begins=begins, ends=ends, date=on))
    return tuple(found)


def read_breaks(text: str) -> tuple[Break, ...]:
    """Breaks such as `10:00-10:20, 12:00-12:40`; Refusal `typed_break` (typed)."""
    found = []
    for typed in filter(None, map(str.strip, re.split(r"[,;\n]", text))):
        parts = _BREAK.fullmatch(typed)
        if parts is None:
            raise Refusal(Reason.TYPED_BREAK, typed=typed[:100])
        begins, ends = _clocks(parts[1], parts[2], typed)
        found.append(Break(begins=begins, ends=ends))
    return tuple(found)


def _clocks(begins: str, ends: str, typed: str) -> tuple[time, time]:
    try:
        return read_clock(begins), read_clock(ends)
    except Refusal:
        raise Refusal(Reason.TYPED_BREAK, typed=typed[:100]) from None


def read_numbers(text: str) -> dict[str, Any]:
    """Tables, minutes of a run, an interview and a change, and `lesson` or `day`; Refusal `typed_day_numbers`."""
    parts = [part.strip().lower() for part in re.split(r"[,;]", text)]
    names = ("tables", "run_minutes", "interview_minutes", "change_minutes")
    numbers = parts[:4]
    if len(parts) != 5 or parts[4] not in ("lesson", "day"):
        raise Refusal(Reason.TYPED_DAY_NUMBERS, typed=text[:100])
    if not all(one.isascii() and one.isdecimal() and len(one) < 5 for one in numbers):
        raise Refusal(Reason.TYPED_DAY_NUMBERS, typed=text[:100])
    return {name: int(one) for name, one in zip(names, numbers, strict=True)} | {"interviews": parts[4]}
