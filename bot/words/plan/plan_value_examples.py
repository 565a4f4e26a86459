"""What may stand at each key of a plan, with an example to copy."""

from bot.rules.plan.plan_key_checks import names_only
from bot.rules.plan.plan_problems import Path
from storage.records.plan_limits import LAST_DAY_HOURS, TYPED_DECIMALS

_TEXT = 'a text in quotation marks, such as "Sock run"'
_LINES = 'a list of texts, such as ["Walk.", "Shoes on."]'
_KEY = 'a short name of small letters, digits and hyphens, such as "sock-run"'
_TIME = "a time of day without quotation marks, such as 16:00:00"
_MOMENT = "a local date and time without quotation marks, such as 2026-10-12T15:30:00"
_DATES = "a list of dates, such as [2026-11-03, 2026-11-11]"
_NUMBER = "a number above 0 without quotation marks, such as 30 or 2.5"
_WHOLE = "a whole number without quotation marks, such as 2"

HINTS: dict[tuple[str, ...], str] = {
    ("zone",): 'the IANA name of a time zone, such as "America/New_York" or "Europe/London"',
    ("sections",): 'a list of class groups, such as ["7 Ash", "7 Birch"]',
    ("brief",): "the text for all squads between three quotation marks",
    ("place_groups",): "[[place_groups]] on a line of its own for each group, and `sections` and `places` below it",
    ("place_groups", "sections"): 'a list of class groups, such as ["7 Ash", "7 Birch"]',
    ("qualify",): "the points that a squad needs at least, such as 50",
    ("squads",): "[squads] on a line of its own, and `smallest` and `largest` below it",
    ("calendar",): "[calendar] on a line of its own, and `brief` and the other dates below it",
    ("events",): "[[events]] on a line of its own for each event, and its keys below it",
    ("tie_breaks",): 'a list such as ["sock-run", "bunting.flags"]',
    ("calendar", "brief"): _MOMENT,
    ("calendar", "signup_closes"): _MOMENT,
    ("calendar", "judging_closes"): _MOMENT,
    ("calendar", "closed"): _DATES,
    ("calendar", "weekend"): 'a list of days, such as ["saturday", "sunday"]',
    ("calendar", "holidays"): 'a country, and if you like a region, such as { country = "US", region = "NY" }',
    ("calendar", "holidays", "country"): 'two capital letters, such as "US"',
    ("calendar", "holidays", "region"): 'the region in capital letters or digits, such as "NY"',
    ("calendar", "remind_at"): _TIME,
    ("calendar", "quiet_from"): _TIME,
    ("calendar", "quiet_until"): _TIME,
    ("calendar", "remind_at_on"): "days of the window with a time each, such as { 9 = 08:00:00 }",
    (
        "calendar",
        "last_day_hours",
    ): f"a list of whole hours from {LAST_DAY_HOURS.least} to {LAST_DAY_HOURS.most}, such as [3, 1]",
    ("event_day",): "[event_day] on a line of its own, and `tables` and its other keys below it",
    ("event_day", "dates"): _DATES,
    ("event_day", "lessons"): "[[event_day.lessons]] for each lesson, and `section`, `begins` and `ends` below it",
    ("event_day", "lessons", "date"): "a date without quotation marks, such as 2026-11-03",
    ("event_day", "breaks"): "a list such as [{ begins = 10:00:00, ends = 10:20:00 }]",
    ("event_day", "key_source"): 'where the key of the draw comes from, such as "five dice, rolled in class"',
    ("practice",): "[practice] on a line of its own, and `times` and its other keys below it",
    ("practice", "times"): 'a list of times of day, such as ["12:10", "15:40"]',
    ("practice", "key_source"): 'where the key of the lot comes from, such as "five dice, rolled in class"',
    ("events", "equipment"): 'what and how many, such as { name = "pairs of scissors", pieces = "present - 1" }',
    ("events", "equipment", "pieces"): '"present - 1", "present / 2" or "present / 2 + 1", in quotation marks',
    ("events", "measures"): "[[events.measures]] on a line of its own for each measure, and its keys below it",
    ("events", "measures", "kind"): 'one of "count", "number", "time", "checklist", "rubric" and "share"',
    ("events", "measures", "items"): 'a list such as [{ key = "sock", name = "Sock", points = 10 }]',
    ("events", "measures", "lines"): 'a list such as [{ key = "roof", name = "The roof holds", points = 2 }]',
    ("events", "measures", "unit"): 'the unit in quotation marks, such as "kg" or "cm"',
    ("events", "measures", "criteria"): "[[events.measures.criteria]] for each criterion, and its keys below it",
}
_BY_LAST = {
    "better": '"lower" where a smaller number is better, otherwise "higher"',
    "over_maximum": '"cap" (more than the maximum earns no more) or "count" (more earns more than 100 points)',
    "scale": 'one of "maximum", "best", "between", "rank" and "standard"',
    "keep": 'which attempts count: "best", "sum" or "mean-of-best-two"',
    "panel": 'how marks become one: "mean", "median", "trimmed" or "adjusted"',
    "comments": 'where judges can comment: "sheet" or "criterion"',
    "least_present": "a whole number without quotation marks, such as 2",
    "seconds": "seconds without quotation marks, such as 180",
    "planning": "seconds without quotation marks, such as 120",
    "begins": _TIME, "ends": _TIME, "tables": _WHOLE, "run_minutes": _WHOLE, "interview_minutes": _WHOLE,
    "change_minutes": "a whole number of minutes, such as 3, or 0",
    "interviews": '"lesson" or "day"',
    "official": '"press" or "hand"',
    "counting": '"school" (school days only) or "calendar" (every day)',
    "deadline_on_closed_day": '"move" or "refuse"',
    "board": '"names" or "code-names"',
    "announce": '"winner", "podium" or "table"',
    "first_round": '"open" or "draw"',
    "unit": 'the unit in quotation marks, such as "kg" or "cm"',
    "key": _KEY, "name": _TEXT, "about": _TEXT, "cautions": _LINES, "levels": _LINES, "weight": _NUMBER,
    "points": "a number without quotation marks, such as 10, or -5 for a penalty", "most": _WHOLE,
    "lowest": "a number without quotation marks, such as 0", "highest": "a number without quotation marks, such as 50",
    "decimals": f"a whole number from {TYPED_DECIMALS.least} to {TYPED_DECIMALS.most}",
    "limit": "the seconds after which the time is up, such as 480", "maximum": _NUMBER,
    "floor": _NUMBER, "full": _NUMBER, "fault_seconds": _NUMBER, "places": _WHOLE, "days": _WHOLE, "smallest": _WHOLE,
    "largest": _WHOLE, "expected": _WHOLE, "attempts": _WHOLE, "protest_days": _WHOLE, "retention_days": _WHOLE,
    "judges_per_squad": _WHOLE, "minutes": _WHOLE, "turns": _WHOLE, "from_day": _WHOLE, "until_day": _WHOLE,
    "give_back_hours": _WHOLE, "pool_hours": _WHOLE, "surprise": "true or false, without quotation marks",
    "hand_in": "true or false, without quotation marks",
}  # fmt: skip


_ENTRIES = {
    "sections": 'a text in quotation marks, such as "7 Ash"',
    "closed": "a date without quotation marks, such as 2026-11-03",
    "times": 'a time of day, such as "12:10"',
    "last_day_hours": f"a whole number of hours from {LAST_DAY_HOURS.least} to {LAST_DAY_HOURS.most}",
    "items": 'a table, such as { key = "sock", name = "Sock", points = 10 }',
    "tie_breaks": 'a text in quotation marks, such as "sock-run"',
}


def hint(path: Path) -> str:
    """What may stand at a place in a plan."""
    names = names_only(path)
    if path and isinstance(path[-1], int):
        return _ENTRIES.get(names[-1]) or HINTS.get(names) or _TEXT
    if names[:-1] == ("calendar", "remind_at_on"):
        return _TIME
    return HINTS.get(names) or _BY_LAST.get(names[-1] if names else "") or _TEXT
