"""Instants as the platform shows them, in each reader's own zone and language; local dates and durations in words."""

import re
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from bot.words.core.number_text import count, in_words

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_UNITS = (("day", 86_400), ("hour", 3_600), ("minute", 60), ("second", 1))
_WHOLE = (("year", 365 * 86_400), *_UNITS)


def full(at: datetime) -> str:
    """Date and time, such as `Monday, 11 January 2027 at 15:30`."""
    return f"<t:{int(at.timestamp())}:F>"


def relative(at: datetime) -> str:
    """How long until or since, such as `in 3 days`; it counts along on each phone."""
    return f"<t:{int(at.timestamp())}:R>"


def clock(at: datetime) -> str:
    """The time of day, such as `15:30`."""
    return f"<t:{int(at.timestamp())}:t>"


def exact_clock(at: datetime) -> str:
    """The time of day to the second, such as `15:30:05`."""
    return f"<t:{int(at.timestamp())}:T>"


def full_and_relative(at: datetime) -> str:
    """Date and time with the distance, such as `Monday, 11 January 2027 at 15:30 (in 3 days)`."""
    return f"{full(at)} ({relative(at)})"


def school_days_text(left: int) -> str:
    """How much time is left in the days that count at school, such as `9 school days left`."""
    return f"{count(left, 'school day')} left" if left else "the last school day"


def school_day_after(days: int) -> str:
    """Which school day from a moment on, such as `the 2nd school day`."""
    ending = {1: "st", 2: "nd", 3: "rd"}.get(days % 10, "th") if days not in (11, 12, 13) else "th"
    return "the next school day" if days == 1 else f"the {days}{ending} school day"


def day_text(day: date) -> str:
    """A local date, such as `Monday 26 October 2026`."""
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def short_day(day: date) -> str:
    """A local date for columns, such as `Mon 26 Oct 2026`; always 15 characters."""
    return f"{WEEKDAYS[day.weekday()][:3]} {day.day:2} {MONTHS[day.month - 1][:3]} {day.year}"


def day_and_month(day: date) -> str:
    """A local date of these weeks, such as `Mon 26 Oct`."""
    return f"{WEEKDAYS[day.weekday()][:3]} {day.day} {MONTHS[day.month - 1][:3]}"


def time_text(moment: time) -> str:
    """A local time of day, such as `15:30`; with seconds only where there are any."""
    return moment.isoformat("seconds" if moment.second else "minutes")


def moment_text(local: datetime) -> str:
    """A local date and time, such as `Monday 26 October 2026 at 15:30`."""
    return f"{day_text(local)} at {time_text(local.time())}"


def with_moments(text: str, zone: ZoneInfo) -> str:
    """A text of the chat for where nothing moves: instants as local dates and times, no time left until then."""
    text = re.sub(r" \(<t:\d+:R>\)|,? ?<t:\d+:R>", "", text)
    return re.sub(r"<t:(\d+):\w>", lambda found: moment_text(datetime.fromtimestamp(int(found[1]), zone)), text)


def short_moment(local: datetime) -> str:
    """A local date and time of these weeks, for lists on a phone, such as `Mon 26 October, 15:30`."""
    return f"{WEEKDAYS[local.weekday()][:3]} {local.day} {MONTHS[local.month - 1]}, {time_text(local.time())}"


def duration(length: timedelta) -> str:
    """A length of time in its two largest units, rounded down, such as `2 days 3 hours`; `now` below a second."""
    seconds = abs(int(length.total_seconds()))
    parts: list[str] = []
    for name, size in _UNITS:
        number, seconds = divmod(seconds, size)
        if number:
            parts.append(count(number, name))
        elif parts:
            break
    return " ".join(parts[:2]) or "now"


def length_text(length: timedelta) -> str:
    """A length of time as in a sentence, in its largest whole unit, such as `a day`, `two days`, `a year`."""
    seconds = int(length.total_seconds())
    name, size = next((name, size) for name, size in _WHOLE if seconds % size == 0)
    article = "an" if name == "hour" else "a"
    return f"{article} {name}" if seconds == size else f"{in_words(seconds // size)} {name}s"


def seconds_text(seconds: Decimal) -> str:
    """A measured time, such as `42.3 s`, `2 min 5.3 s` or `8 min`."""
    minutes, rest = divmod(seconds, 60)
    parts = [f"{int(minutes)} min"] if minutes else []
    if rest or not minutes:
        parts.append(f"{rest.normalize():f} s")
    return " ".join(parts)
