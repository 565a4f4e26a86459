"""The plan of a try-out: what the coach decides before the first student signs up.

Numbers that enter a score are `Decimal`, so that they stay exact; the rules turn them into fractions.
Times of day and dates are local to the plan's IANA zone.
"""

from datetime import date, datetime, time
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from storage.records import plan_defaults as defaults
from storage.records import plan_limits as limits
from storage.records.base import Record
from storage.records.day_plan import DayPlan
from storage.records.plan_measures import Measure
from storage.records.plan_value_types import (
    Key,
    Line,
    Positive,
    Section,
    Text,
    Weekday,
)


class Squads(Record):
    """How many students make a squad; both ends are included."""

    smallest: int = Field(defaults.SMALLEST_SQUAD, ge=limits.SQUAD_MEMBERS.least, le=limits.SQUAD_MEMBERS.most)
    largest: int = Field(defaults.LARGEST_SQUAD, ge=limits.SQUAD_MEMBERS.least, le=limits.SQUAD_MEMBERS.most)
    expected: int | None = Field(None, ge=limits.EXPECTED_SQUADS.least, le=limits.EXPECTED_SQUADS.most)
    """How many squads the coach expects; only the check of a plan looks at it."""
    board: Literal["names", "code-names"] = defaults.BOARD
    """Under what students stand on the public board of squads."""


class Holidays(Record):
    """Public holidays that count as closed days: an ISO 3166 country code and, if wanted, a region of it."""

    country: Annotated[str, StringConstraints(pattern=r"^[A-Z]{2}$")]
    region: Annotated[str, StringConstraints(pattern=r"^[A-Z0-9]{1,6}$")] | None = None


class Calendar(Record):
    """When things happen. The brief opens the window; the deadline is `days` later at the same wall-clock time."""

    brief: datetime
    """Local date and time at which the brief goes to everyone (no offset: it is meant in the plan's zone)."""
    days: int = Field(defaults.WINDOW_DAYS, ge=limits.WINDOW_DAYS.least, le=limits.WINDOW_DAYS.most)
    counting: Literal["calendar", "school"] = defaults.COUNTING
    weekend: tuple[Weekday, ...] = Field(defaults.WEEKEND, max_length=limits.WEEKEND_DAYS)
    """Days that are never school days."""
    closed: tuple[date, ...] = Field((), max_length=limits.MOST_CLOSED_DAYS)
    """The school's own closed days; they win over any list of public holidays."""
    holidays: Holidays | None = None
    deadline_on_closed_day: Literal["move", "refuse"] = defaults.DEADLINE_ON_CLOSED_DAY
    """For calendar days: a deadline on a closed day moves to the next school day, or the plan is refused."""
    remind_at: time = defaults.REMIND_AT
    remind_at_on: dict[Annotated[int, Field(ge=limits.WINDOW_DAYS.least, le=limits.WINDOW_DAYS.most)], time] = {}
    """Another reminder hour for single days of the window: day number (1 is the day after the brief) to time."""
    last_day_hours: tuple[Annotated[int, Field(ge=limits.LAST_DAY_HOURS.least, le=limits.LAST_DAY_HOURS.most)], ...] = (
        Field(defaults.LAST_DAY_HOURS, max_length=limits.LAST_DAY_HOURS.most)
    )
    """On the last day also this many hours before the deadline."""
    quiet_from: time = defaults.QUIET_FROM
    quiet_until: time = defaults.QUIET_UNTIL
    """No reminder between these times of day; one that falls there waits until the quiet hours end."""
    signup_closes: datetime | None = None
    """Local; the moment of the brief when absent."""
    judging_closes: datetime | None = None
    """Local; three days after the deadline when absent. Only reminders depend on it: the coach closes judging."""


class Practice(Record):
    """Turns at the one shared table, on the school days of the window; squads book them."""

    minutes: int = Field(defaults.TURN_MINUTES, ge=limits.TURN_MINUTES.least, le=limits.TURN_MINUTES.most)
    """How long one turn is."""
    times: tuple[time, ...] = Field(min_length=limits.TURN_TIMES.least, max_length=limits.TURN_TIMES.most)
    """Local times of day at which a turn begins."""
    turns: int | None = Field(None, ge=limits.TURNS_OF_A_SQUAD.least, le=limits.TURNS_OF_A_SQUAD.most)
    """Turns each squad may book before the others are shared out; the same whole share for all when absent."""
    from_day: int = Field(defaults.FIRST_DAY_WITH_TURNS, ge=limits.WINDOW_DAYS.least, le=limits.WINDOW_DAYS.most)
    """The first day of the window with turns."""
    until_day: int | None = Field(None, ge=limits.WINDOW_DAYS.least, le=limits.WINDOW_DAYS.most)
    """The last one; the last day of the window when absent."""
    give_back_hours: int = Field(
        defaults.GIVE_BACK_HOURS, ge=limits.GIVE_BACK_HOURS.least, le=limits.GIVE_BACK_HOURS.most
    )
    """Until so many hours before a turn it may be given back."""
    pool_hours: int = Field(defaults.POOL_HOURS, ge=limits.POOL_HOURS.least, le=limits.POOL_HOURS.most)
    """So many hours before it, a turn that nobody has booked is open to squads that have used up their share."""
    first_round: Literal["open", "draw"] = defaults.FIRST_ROUND
    """Whether squads book from the brief on, or once a lot has said who chooses first."""
    key_source: Line = defaults.KEY_SOURCE
    """Where the key of that lot comes from; published before it is known."""


class PlaceGroup(Record):
    """Sections that compete for places of their own."""

    sections: tuple[Section, ...] = Field(min_length=limits.SECTIONS.least, max_length=limits.SECTIONS.most)
    places: int = Field(defaults.PLACES, ge=limits.PLACES.least, le=limits.PLACES.most)


class Equipment(Record):
    """What each squad is given in an event, by how many of its members are here."""

    name: Line
    """In the plural, such as `pairs of scissors`."""
    pieces: Annotated[str, StringConstraints(pattern=r"^present( ?/ ?[1-9][0-9]?)?( ?[-+] ?[0-9]{1,2})?$")]
    """`present - 1`, or `present / 2` (rounded up), or both; never below 0."""


class Event(Record):
    """One part of the try-out, with its weight in the total."""

    key: Key
    name: Line
    weight: Positive
    about: Text = ""
    """What squads must do and how it is scored; part of the brief unless the event is a surprise."""
    surprise: bool = False
    """Kept out of every text a student can see until the coach starts it."""
    hand_in: bool = False
    """Each member hands in a part with a written reason during the window."""
    cautions: tuple[Line, ...] = Field((), max_length=limits.MOST_CAUTIONS)
    """Safety lines, shown with the event; the coach confirms them before a timed task."""
    equipment: Equipment | None = None
    """What each squad is given; absent where the number of people here does not matter."""
    least_present: int | None = Field(None, ge=limits.LEAST_PRESENT.least, le=limits.LEAST_PRESENT.most)
    """So many members must be here for a squad to run; a coach may let fewer."""
    measures: tuple[Measure, ...] = Field(min_length=limits.MEASURES.least, max_length=limits.MEASURES.most)


class Plan(Record):
    """A whole try-out as the coach means it."""

    name: Line
    zone: str
    """IANA zone name, such as America/New_York."""
    sections: tuple[Section, ...] = Field(min_length=limits.SECTIONS.least, max_length=limits.SECTIONS.most)
    places: int = Field(defaults.PLACES, ge=limits.PLACES.least, le=limits.PLACES.most)
    """How many squads win; with `place_groups` the sum of theirs."""
    place_groups: tuple[PlaceGroup, ...] = Field((), max_length=limits.MOST_PLACE_GROUPS)
    """Places for sections or groups of sections, each section in one group; without them all compete for all."""
    qualify: (
        Annotated[
            Decimal,
            Field(
                ge=0,
                le=limits.LARGEST_MINIMUM,
                max_digits=limits.MINIMUM_DIGITS,
                decimal_places=limits.DECIMALS,
                allow_inf_nan=False,
            ),
        ]
        | None
    ) = None
    """The total that a squad needs at least to win a place."""
    brief: Text
    """What the squads must do, in the words of the coach."""
    squads: Squads = Squads(smallest=defaults.SMALLEST_SQUAD, largest=defaults.LARGEST_SQUAD)
    calendar: Calendar
    events: tuple[Event, ...] = Field(min_length=limits.EVENTS.least, max_length=limits.EVENTS.most)
    practice: Practice | None = None
    """Turns at the shared table; absent where the bot does not look after them."""
    event_day: DayPlan | None = None
    """When and where squads run and are interviewed; absent where the bot makes no timetable."""
    tie_breaks: tuple[str, ...] = Field((), max_length=limits.MOST_TIE_BREAKS)
    """In order: `event` or `event.measure` or `event.measure.criterion`; a run-off follows when all are equal."""
    announce: Literal["winner", "podium", "table"] = defaults.ANNOUNCE
    protest_days: int = Field(defaults.PROTEST_DAYS, ge=limits.PROTEST_DAYS.least, le=limits.PROTEST_DAYS.most)
    """School days after the announcement in which procedure and arithmetic may be questioned."""
    retention_days: int = Field(defaults.RETENTION_DAYS, ge=limits.RETENTION_DAYS.least, le=limits.RETENTION_DAYS.most)
    """Days after the announcement until names and marks are erased."""
