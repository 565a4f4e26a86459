"""What is wrong with a plan, in words: where it stands, what was found, and the mend."""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, time
from decimal import Decimal
from functools import singledispatch
from itertools import zip_longest

import tomli_w

from bot.rules.plan.misnamed_plan_keys import MEANT
from bot.rules.plan.oversized_plan_files import LONGEST_NAME
from bot.rules.plan.plan_problems import Path, PlanProblem
from bot.words.core.number_text import count
from bot.words.core.plain_text import cut
from bot.words.core.times import day_text, moment_text, time_text
from bot.words.plan.plan_remarks import REMARKS
from bot.words.plan.plan_value_examples import hint
from storage.records.plan_limits import DECIMALS, DIGITS, WINDOW_DAYS

SENTENCES = {
    # The file as a whole.
    "syntax": "The file cannot be read as TOML from here on: {message}. Nothing after this line was checked.",
    "too_deep": "The file has too many brackets within brackets. Start from a copy of the built-in plan.",
    "too_long_name": f"The file has a key or a number of more than {LONGEST_NAME} characters. Shorten it.",
    "huge_number": "The file has a number that is too long to be read. Shorten it.",
    "not_utf8": "The file is not saved as UTF-8 text. Save it again with the encoding UTF-8.",
    "file_too_large": "The file has {found} bytes; {most} is the most. Shorten it.",
    # One value.
    "missing": "{Place} is missing. Write {hint}.",
    "unknown": "{Place}: no plan has this key. {guess}",
    "misplaced": "{Place} belongs at the top of the file. Move it above the first heading in [brackets].",
    "empty": "{Place} is empty. Write {hint}.",
    "too_long": "{Place} has {length} characters, and the chat shows {most} at most. Shorten it.",
    "control": "{Place} has a line end or another control character in it: {found}. Write it without.",
    "form": "{Place} is {found}. Write {hint}.",
    "not_text": "{Place} is {found}. Write {hint}.",
    "not_whole": "{Place} is {found}. Write {hint}.",
    "not_number": "{Place} is {found}. Write {hint}.",
    "not_list": "{Place} is {found}. Write {hint}.",
    "not_table": "{Place} is {found}. Write {hint}.",
    "not_moment": "{Place} is {found}. Write {hint}.",
    "not_time": "{Place} is {found}. Write {hint}.",
    "not_date": "{Place} is {found}. Write {hint}.",
    "not_yes_no": "{Place} is {found}. Write true or false, without quotation marks.",
    "yes_no": "{Place} is {found}. Write {hint}.",
    "too_fine": f"{{Place}} is {{found}}. Use at most {DECIMALS} decimals and {DIGITS - DECIMALS} digits before them.",
    "too_small": "{Place} is {found}. It must be {bound}.",
    "too_large": "{Place} is {found}. It must be {bound}.",
    "too_few": "{Place} has {entries}. It needs at least {least}.",
    "too_many": "{Place} has {entries}. It can have {most} at most.",
    "choice": "{Place} is {found}. Choose one of: {allowed}.",
    "offset": "{Place} is {found}. Write the local time alone, without Z, + or -; it is meant in the plan's own zone.",
    "day_number": "{Place}: the key must be the number of a day of the window, from "
    f"{WINDOW_DAYS.least} to {WINDOW_DAYS.most}.",
    "wrong": "{Place} is {found}. {message}.",
    # Between the parts.
    "zone": "{Place} is {found}, which is not in the IANA list of time zones. {guess}",
    "squad_sizes": "{Place} is {found}, which is more than `largest` ({largest}). Swap them or change one.",
    "repeated": "{Place} is {found}, which stands there already. Give each its own.",
    "group_section": "{Place} is {found}, and the plan has no section of that name. {guess}",
    "group_left": "{Place}: {left} compete for no place. Put each section into one group.",
    "places_sum": "{Place} is {found}, but the groups have {sum} in all. Write places = {sum}.",
    "scale_maximum": "{Place} is missing: the scale \"maximum\" needs the value that is worth full points.",
    "scale_between": "{Place} is missing: the scale \"between\" needs `floor` (no points) and `full` (full points).",
    "lower_ends": "{Place} is {found} and `floor` is {floor}, but lower is better here. `full` is worth all points, "
    "so it must be the lower one. Swap them, or take out `better = \"lower\"`.",
    "higher_ends": "{Place} is {found} and `floor` is {floor}, so a lower value would earn more. If lower is better, "
    "add `better = \"lower\"`; otherwise swap the two.",
    "time_ends": "{Place} is {found} and `floor` is {floor}, so a slower squad would earn more. Swap the two.",
    "best_lower": "{Place} is {found}, but {lowest} is possible and is the best: nothing can be compared with it. "
    "Choose \"between\" or \"rank\".",
    "scale_negative": "{Place} is {found}, but values down to {lowest} are possible. Choose \"between\" or \"rank\".",
    "zero_points": "{Place} is 0, so it changes nothing. Write a number above 0, or below 0 for a penalty.",
    "only_penalties": "{Place}: all points are below 0, so nobody can earn anything. Add something that earns points.",
    "range_ends": "{Place} is {found}, not above `lowest` ({lowest}). Swap them or change one.",
    "range_decimals": "{Place} is {found}, which has more decimals than `decimals` ({decimals}). Raise `decimals`, or "
    "round it.",
    "scale_ends_equal": "{Place} is {found}, the same as `floor`. The two must differ.",
    "hand_in_secret": "{Place}: squads cannot hand in something for a surprise. Take out `hand_in` or `surprise`.",
    "two_attempts": "{Place} is {found}, but the mean of the best two needs at least 2 attempts.",
    "day_ends": "{Place} is {found}, not after `begins` ({begins}). Choose a later time.",
    "day_date": "{Place} is {found}, which is none of the `dates` of the event day.",
    "day_early": "{Place} is {found}, before the brief. Choose a later date.",
    "least_present": "{Place}: {found} members cannot be here, for a squad has {largest} at most.",
    "trimmed_judges": "{Place} is {found}, but a trimmed mean needs at least {least} judges a squad.",
    "tie_break": "{Place} is {found}, and the plan scores nothing of that name. {guess}",
    "day_after_window": "{Place}: the window ends on day {days}. Choose an earlier day.",
    "holidays_country": "{Place}: no public holidays are known for {country}. List the days under `closed` instead.",
    "holidays_region": "{Place}: {country} has no region {region}. Choose one of: {known}.",
    "no_school_days": "{Place}: with these weekends and closed days there is no school day left.",
    "deadline_closed": "{Place}: the deadline falls on {day}, when the school is closed; the next school day is "
    "{next_day}. Change the days or the brief, or set `deadline_on_closed_day = \"move\"`.",
    "year": "{Place} is {found}. Choose a date in the years {least} to {most}.",
    "practice_overlap": "{Place}: a turn has {minutes} minutes, so the next one would begin before it is over.",
    "practice_days": "{Place} is {found}, before `from_day` ({from_day}). Choose a later day.",
    "signup_late": "{Place} is {found}, after the deadline ({deadline}). Choose an earlier moment.",
    "retention_short": "{Place} is {found}, but protests may take {least} days from the announcement, and need the "
    "names. Choose {least} or more, or fewer `protest_days`.",
    "judging_early": "{Place} is {found}, not after the deadline ({deadline}). Choose a later moment.",
    # Worth knowing, though nothing is wrong.
    **REMARKS,
}  # fmt: skip
_ENTRIES = {
    "events": "event", "measures": "measure", "items": "item", "criteria": "criterion", "levels": "level",
    "sections": "section", "cautions": "caution", "tie_breaks": "tie-break", "lines": "line",
    "place_groups": "place group",
}  # fmt: skip
SHOWN = 60
"""Characters of a wrong value that are shown."""


def problem_line(problem: PlanProblem) -> str:
    """One problem as a line of text, with its line in the file where that is known."""
    place = place_text(problem.path)
    sentence = SENTENCES[problem.kind].format_map(
        {
            **{name: in_words(value) for name, value in problem.fields.items()},
            "Place": place[:1].upper() + place[1:],
            "found": _in_file(problem.found),
            "said": in_words(problem.found),
            "hint": hint(problem.path),
            "guess": _guess(problem),
            "bound": _bound(problem.fields),
            "entries": count(_length(problem.fields), "entry", "entries"),
        }
    )
    return sentence if problem.line is None else f"Line {problem.line}. {sentence}"


def problems_text(problems: Sequence[PlanProblem], most: int = 1800, left_out: int = 0) -> str:
    """The problems of a plan as a list of at most `most` characters; what does not fit is counted."""
    whole = len(problems) + left_out
    heading = f"This plan has {count(whole, 'mistake')}, so nothing was changed."
    lines = [heading]
    room = most - len(heading) - len(f"\n… and {whole} more.")
    for problem in problems:
        line = f"• {problem_line(problem)}"
        room -= len(line) + 1
        if room < 0:
            break
        lines.append(line)
    left = whole - (len(lines) - 1)
    return "\n".join([*lines, *([f"… and {left} more."] if left else [])])


def place_text(path: Path) -> str:
    """Where something stands, as in "event 2, measure 1, `maximum`" or "[calendar] `brief`"; lists count from 1."""
    parts: list[str] = []
    tables: list[str] = []
    for part, following in zip_longest(path, path[1:]):
        if isinstance(part, int):
            continue
        if isinstance(following, int):
            name = _ENTRIES.get(part)
            parts.append(f"{name} {following + 1}" if name else f"entry {following + 1} of `{part}`")
        elif following is not None:
            tables.append(part)
        else:
            parts.append(f"`{part}`")
    table = f"[{'.'.join(tables)}] " if tables else ""
    return table + ", ".join(parts) if parts else "the file"


@singledispatch
def in_words(value: object) -> str:
    """A value as it is said within a sentence."""
    return str(value)


@in_words.register
def _(value: Decimal) -> str:
    return f"{value.normalize():f}"


@in_words.register
def _(value: date) -> str:
    return day_text(value)


@in_words.register
def _(value: datetime) -> str:
    return f"{value:%H:%M} UTC" if value.tzinfo is UTC else moment_text(value)


@in_words.register
def _(value: time) -> str:
    return time_text(value)


@in_words.register
def _(value: tuple) -> str:  # type: ignore[type-arg]
    return ", ".join(f"`{entry}`" for entry in value[:30]) + (", …" if len(value) > 30 else "")


def _in_file(value: object) -> str:
    """A value as it stands in the file, on one line and cut short."""
    if value is None:
        return "nothing"
    if isinstance(value, list | dict):
        return "a list" if isinstance(value, list) else "a table"
    value = value[: 2 * SHOWN] if isinstance(value, str) else value
    written = tomli_w.dumps({"value": value}).removeprefix("value = ").strip()
    return cut(written, SHOWN)


def _guess(problem: PlanProblem) -> str:
    meant, known = problem.fields.get("meant"), problem.fields.get("known")
    if isinstance(meant, str) and problem.kind == "unknown" and meant in MEANT.get(str(problem.path[-1]), ()):
        return f"Did you mean `{meant}`? Write {hint((*problem.path[:-1], meant))}."
    if meant is not None:
        return f"Did you mean `{meant}`?"
    return f"There are: {in_words(known)}." if known else f"Write {hint(problem.path)}."


def _bound(fields: Mapping[str, object]) -> str:
    for name, text in (("least", "{} or more"), ("above", "more than {}"), ("most", "{} or less")):
        if name in fields:
            return text.format(in_words(fields[name]))
    return ""


def _length(fields: Mapping[str, object]) -> int:
    length = fields.get("length")
    return length if isinstance(length, int) else 0
