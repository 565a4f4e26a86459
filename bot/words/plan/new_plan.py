"""Making a plan by answering questions: what is asked, and the commented file that comes of it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, time, timedelta

import tomli_w

from bot.rules.core.parse_dates import read_clock, read_date
from bot.rules.core.parse_lists import read_list
from bot.rules.core.parse_numbers import read_between
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.calendar_checks import known_zone
from bot.words.core.times import time_text
from bot.words.plan import form_mistakes
from bot.words.plan.new_plan_events import EVENTS, Asked, event_toml, read_events

WEEKS_AHEAD = 3
"""The proposed brief is on a Monday so many weeks from now."""


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


Question = tuple[str, Callable[[Answers], str], Callable[[Answers, str], None]]
"""What is asked, what stands if nothing is typed, and how the answer is taken; the last raises Refusal."""


def defaults(today: date) -> Answers:
    """Answers before anything is typed."""
    monday = today + timedelta(days=-today.weekday() % 7, weeks=WEEKS_AHEAD)
    return Answers(day=monday)


def _name(found: Answers, typed: str) -> None:
    if len(typed) > 100:
        raise Refusal(Reason.TYPED_LINE, typed=f"{typed[:40]}…")
    found.name = typed


def _zone(found: Answers, typed: str) -> None:
    if not known_zone(typed):
        raise Refusal(Reason.TYPED_ZONE, typed=typed)
    found.zone = typed


def _sections(found: Answers, typed: str) -> None:
    names = read_list(typed)
    if not names or len(names) > 25 or max(map(len, names)) > 30:
        raise Refusal(Reason.TYPED_SECTIONS, typed=typed)
    if len({name.casefold() for name in names}) < len(names):
        raise Refusal(Reason.TYPED_SECTIONS, typed=typed)
    found.sections = names


def _places(found: Answers, typed: str) -> None:
    found.places = read_between(typed, "The number of places", 1, 25)


def _sizes(found: Answers, typed: str) -> None:
    least, _, most = typed.replace("to", "-").partition("-")
    smallest = read_between(least, "The smallest squad", 1, 25)
    found.smallest, found.largest = smallest, read_between(most or least, "The largest squad", smallest, 25)


def _day(found: Answers, typed: str) -> None:
    found.day = read_date(typed)


def _clock(found: Answers, typed: str) -> None:
    found.clock = read_clock(typed)


def _days(found: Answers, typed: str) -> None:
    number, _, which = typed.partition(" ")
    found.days = read_between(number, "The number of days", 1, 60)
    found.counting = "calendar" if which.strip().startswith("cal") else "school"


def _events(found: Answers, typed: str) -> None:
    found.events = read_events(typed)


def _turns(found: Answers, typed: str) -> None:
    found.turns = () if typed == "none" else tuple(read_clock(one) for one in read_list(typed))


QUESTIONS: tuple[Question, ...] = (
    ("What is the try-out called?", lambda a: a.name, _name),
    ("Which time zone is the school in?", lambda a: a.zone, _zone),
    ("Which sections (class groups), separated by commas?", lambda a: ", ".join(a.sections), _sections),
    ("How many squads win a place?", lambda a: str(a.places), _places),
    ("How many members does a squad have, from - to?", lambda a: f"{a.smallest}-{a.largest}", _sizes),
    ("On which day does everyone get the brief (year-month-day)?", lambda a: a.day.isoformat(), _day),
    ("At what time (24 hours)?", lambda a: time_text(a.clock), _clock),
    ("How many days until the deadline, in school days or calendar days?", lambda a: f"{a.days} {a.counting}", _days),
    (
        "Which events? Name = how it is measured: count, time, judges, checklist, or number UNIT (add 'lower' where\n"
        "less is better), separated by commas",
        lambda a: ", ".join(one.typed for one in a.events),
        _events,
    ),
    ("At which times is the practice table free, separated by commas, or none?",
     lambda a: ", ".join(map(time_text, a.turns)) or "none", _turns),
)  # fmt: skip


def ask_all(found: Answers, ask: Callable[[str], str], say: Callable[[str], None]) -> None:
    """Ask every question until it has an answer; nothing typed takes what is proposed."""
    for text, proposed, take in QUESTIONS:
        while True:
            standing = proposed(found)
            typed = ask(f"{text} [{standing}] ").strip() or standing
            try:
                take(found, typed)
                break
            except Refusal as refusal:
                say(form_mistakes.REFUSALS[refusal.reason].format(**refusal.fields))


def plan_toml(found: Answers) -> str:
    """A commented plan of the answers, which `read_plan` takes as it is."""
    events = "\n".join(event_toml(one) for one in found.events)
    keys = ", ".join(f'"{one.key}"' for one in found.events)
    practice = ""
    if found.turns:
        times = ", ".join(f"{one:%H:%M:%S}" for one in found.turns)
        practice = (
            f"[practice]                     # turns at the one shared table\ntimes = [{times}]\nminutes = 20\n\n"
        )
    lines = "\n".join(f"{number}. {one.name}" for number, one in enumerate(found.events, start=1))
    return f"""\
# A plan for a try-out. Change what you like, then check it:  tenbell plan check THIS-FILE
# Every key is explained by:  tenbell plan reference

{_value("name", found.name)}
{_value("zone", found.zone)}
{_value("sections", list(found.sections))}
places = {found.places}                     # how many squads win a place

# What everyone reads when it begins. Say in your own words what to do and how to win.
brief = '''
Welcome! Every squad gets a real taste of competing. This is what counts:
{lines.replace("'", "’")}
Everyone in the squad takes part. Ask about the rules; everyone reads the answer.
'''

tie_breaks = [{keys}]  # compared in this order when totals are equal; then there is a run-off
announce = "winner"            # or "podium" (first three) or "table" (everyone)

[squads]
smallest = {found.smallest}
largest = {found.largest}

[calendar]
brief = {found.day.isoformat()}T{found.clock:%H:%M:%S}    # local date and time
days = {found.days}                      # until the deadline
counting = "{found.counting}"            # "school" leaves out weekends and closed days; "calendar" counts every day
closed = []                    # days off, such as [2026-11-03]

{practice}{events}"""


def _value(key: str, value: object) -> str:
    return tomli_w.dumps({key: value}).strip().replace("\n    ", " ").replace(",\n]", " ]")
