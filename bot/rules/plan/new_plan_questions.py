"""A plan made by answering questions: what is proposed for each, and what each answer may be."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, time, timedelta

from bot.rules.core.parse_typed import read_between, read_clock, read_date, read_list
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.calendar_checks import known_zone
from bot.rules.plan.edit_plan import read_days, read_places, read_smallest, split_sizes
from bot.rules.plan.new_set_of_events import Asked, read_events
from storage.records import plan_limits as limits
from storage.records.plan_defaults import ANNOUNCE, TURN_MINUTES

WEEKS_AHEAD = 3
"""The proposed brief is on a Monday so many weeks from now."""
EVENTS = "Run = count, Group piece = judges, Challenge = time"
"""The proposed events."""


@dataclass
class Answers:
    """What was answered; the defaults make a plan as they stand."""

    day: date
    name: str = "Try-out"
    zone: str = "America/New_York"
    sections: tuple[str, ...] = ("7 Ash", "7 Birch")
    places: int = 1
    smallest: int = 3
    largest: int = 5
    clock: time = time(15, 30)
    days: int = 10
    counting: str = "school"
    events: tuple[Asked, ...] = field(default_factory=lambda: read_events(EVENTS))
    turns: tuple[time, ...] = ()
    turn_minutes: int = TURN_MINUTES
    announce: str = ANNOUNCE


def defaults(today: date) -> Answers:
    """Answers before anything is typed."""
    monday = today + timedelta(days=-today.weekday() % 7, weeks=WEEKS_AHEAD)
    return Answers(day=monday)


def take_name(found: Answers, typed: str) -> None:
    """What the try-out is called. Raises Refusal `typed_line`."""
    if len(typed) > limits.LINE_LETTERS:
        raise Refusal(Reason.TYPED_LINE, typed=f"{typed[:40]}…")
    found.name = typed


def take_zone(found: Answers, typed: str) -> None:
    """The time zone of the school. Raises Refusal `typed_zone`."""
    if not known_zone(typed):
        raise Refusal(Reason.TYPED_ZONE, typed=typed)
    found.zone = typed


def take_sections(found: Answers, typed: str) -> None:
    """The class groups, each once. Raises Refusal `typed_sections`."""
    names = read_list(typed)
    if not names or len(names) > limits.SECTIONS.most or max(map(len, names)) > limits.SECTION_LETTERS:
        raise Refusal(Reason.TYPED_SECTIONS, typed=typed)
    if len({name.casefold() for name in names}) < len(names):
        raise Refusal(Reason.TYPED_SECTIONS, typed=typed)
    found.sections = names


def take_places(found: Answers, typed: str) -> None:
    """How many squads win. Raises Refusal `typed_places`."""
    found.places = read_places(typed)


def take_sizes(found: Answers, typed: str) -> None:
    """Members of a squad: from - to, or one number for both. Raises Refusal `typed_smallest` or `typed_largest`."""
    least, most = split_sizes(typed)
    smallest = read_smallest(least)
    largest = read_between(most, Reason.TYPED_LARGEST, smallest, limits.SQUAD_MEMBERS.most)
    found.smallest, found.largest = smallest, largest


def take_day(found: Answers, typed: str) -> None:
    """The day of the brief. Raises Refusal `typed_date`."""
    found.day = read_date(typed)


def take_clock(found: Answers, typed: str) -> None:
    """The time of day of the brief. Raises Refusal `typed_clock`."""
    found.clock = read_clock(typed)


def take_days(found: Answers, typed: str) -> None:
    """Days to the deadline; school days unless calendar days are named. Raises Refusal `typed_days`."""
    number, _, which = typed.partition(" ")
    found.days = read_days(number)
    found.counting = "calendar" if which.strip().startswith("cal") else "school"


def take_events(found: Answers, typed: str) -> None:
    """The events. Raises Refusal as `read_events`."""
    found.events = read_events(typed)


def take_turns(found: Answers, typed: str) -> None:
    """When turns at the practice table begin; none where the bot does not look after it. Raises `typed_clock`."""
    found.turns = () if typed == "none" else tuple(read_clock(one) for one in read_list(typed))


Take = Callable[[Answers, str], None]
"""How an answer is taken. Raises Refusal."""
TAKES: dict[str, Take] = {
    "name": take_name,
    "zone": take_zone,
    "sections": take_sections,
    "places": take_places,
    "sizes": take_sizes,
    "day": take_day,
    "clock": take_clock,
    "days": take_days,
    "events": take_events,
    "turns": take_turns,
}
"""How each answer is taken, by the name of its question (`bot/words/plan/new_plan_questions.py`)."""
