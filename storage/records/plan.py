"""The plan of a try-out: what the coach decides before the first student signs up.

Numbers that enter a score are `Decimal`, so that they stay exact; the rules turn them into fractions.
Times of day and dates are local to the plan's IANA zone.
"""

from datetime import date, datetime, time
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from storage.records.base import Record
from storage.records.day_plan import DayPlan
from storage.records.plan_value_types import (
    ONE_LINE,
    Amount,
    Better,
    Keep,
    Key,
    Line,
    Positive,
    Section,
    Signed,
    Text,
    Weekday,
)


class Squads(Record):
    """How many students make a squad; both ends are included."""

    smallest: int = Field(3, ge=1, le=25)
    largest: int = Field(5, ge=1, le=25)
    expected: int | None = Field(None, ge=1, le=1000)
    """How many squads the coach expects; only the check of a plan looks at it."""
    board: Literal["names", "code-names"] = "names"
    """Under what students stand on the public board of squads."""


class Holidays(Record):
    """Public holidays that count as closed days: an ISO 3166 country code and, if wanted, a region of it."""

    country: Annotated[str, StringConstraints(pattern=r"^[A-Z]{2}$")]
    region: Annotated[str, StringConstraints(pattern=r"^[A-Z0-9]{1,6}$")] | None = None


class Calendar(Record):
    """When things happen. The brief opens the window; the deadline is `days` later at the same wall-clock time."""

    brief: datetime
    """Local date and time at which the brief goes to everyone (no offset: it is meant in the plan's zone)."""
    days: int = Field(10, ge=1, le=60)
    counting: Literal["calendar", "school"] = "calendar"
    weekend: tuple[Weekday, ...] = Field(("saturday", "sunday"), max_length=7)
    """Days that are never school days."""
    closed: tuple[date, ...] = Field((), max_length=400)
    """The school's own closed days; they win over any list of public holidays."""
    holidays: Holidays | None = None
    deadline_on_closed_day: Literal["move", "refuse"] = "move"
    """For calendar days: a deadline on a closed day moves to the next school day, or the plan is refused."""
    remind_at: time = time(16, 0)
    remind_at_on: dict[Annotated[int, Field(ge=1, le=60)], time] = {}
    """Another reminder hour for single days of the window: day number (1 is the day after the brief) to time."""
    last_day_hours: tuple[Annotated[int, Field(ge=1, le=23)], ...] = Field((3, 1), max_length=23)
    """On the last day also this many hours before the deadline."""
    quiet_from: time = time(20, 0)
    quiet_until: time = time(7, 0)
    """No reminder between these times of day; one that falls there waits until the quiet hours end."""
    signup_closes: datetime | None = None
    """Local; the moment of the brief when absent."""
    judging_closes: datetime | None = None
    """Local; three days after the deadline when absent. Only reminders depend on it: the coach closes judging."""


class Practice(Record):
    """Turns at the one shared table, on the school days of the window; squads book them."""

    minutes: int = Field(20, ge=5, le=240)
    """How long one turn is."""
    times: tuple[time, ...] = Field(min_length=1, max_length=12)
    """Local times of day at which a turn begins."""
    turns: int | None = Field(None, ge=1, le=60)
    """Turns each squad may book before the others are shared out; the same whole share for all when absent."""
    from_day: int = Field(1, ge=1, le=60)
    """The first day of the window with turns."""
    until_day: int | None = Field(None, ge=1, le=60)
    """The last one; the last day of the window when absent."""
    give_back_hours: int = Field(2, ge=0, le=72)
    """Until so many hours before a turn it may be given back."""
    pool_hours: int = Field(20, ge=0, le=168)
    """So many hours before it, a turn that nobody has booked is open to squads that have used up their share."""
    first_round: Literal["open", "draw"] = "open"
    """Whether squads book from the brief on, or once a lot has said who chooses first."""
    key_source: Line = "five dice, rolled in front of the class"
    """Where the key of that lot comes from; published before it is known."""


class Scaled(Record):
    """What every measure has: its key, name, weight within the event, and the scale that turns it into 0 to 1."""

    key: Key
    name: Line
    weight: Positive = Decimal(1)
    scale: Literal["maximum", "best", "between", "rank", "standard"] = "maximum"
    maximum: Positive | None = None
    """For the scale `maximum`: the value worth 1; where lower is better, and for a time, the value worth 0."""
    over_maximum: Literal["cap", "count"] = "cap"
    """For the scale `maximum`: a value above it counts as the maximum, or keeps its lead and earns more than 100."""
    floor: Signed | None = None
    """For the scale `between`: the value worth 0."""
    full: Signed | None = None
    """For the scale `between`: the value worth 1; below `floor` where lower is better."""


class Item(Record):
    """A kind of thing that is counted, or a bonus or penalty with a name, and the points each one is worth."""

    key: Key
    name: Line
    points: Signed = Decimal(10)
    """Not 0; below 0 for a penalty."""
    most: int | None = Field(None, ge=1, le=999)
    """How many there are; typing more is asked about before it is saved."""


class Count(Scaled):
    """Items counted: value = sum of items x points - deductions, never below 0.

    Where lower is better, as when mistakes are counted, deductions are points added.
    """

    kind: Literal["count"] = "count"
    items: tuple[Item, ...] = Field(min_length=1, max_length=5)
    better: Better = "higher"
    attempts: int = Field(2, ge=1, le=10)
    keep: Keep = "best"
    seconds: Positive | None = None
    """How long one run lasts; the run pad shows when it ends."""


class Number(Scaled):
    """A measured value, such as a mass in grams or a length in centimetres."""

    kind: Literal["number"] = "number"
    unit: Annotated[str, StringConstraints(min_length=1, max_length=12, strip_whitespace=True, pattern=ONE_LINE)]
    """Shown after the number, such as kg."""
    decimals: int = Field(0, ge=0, le=4)
    """The most digits after the decimal point that may be typed."""
    lowest: Signed = Decimal(0)
    highest: Signed
    """The range of values that are possible; anything outside is a slip and is refused."""
    better: Better = "higher"
    attempts: int = Field(1, ge=1, le=10)
    keep: Keep = "best"


class Check(Record):
    """One yes-or-no line of a checklist, and the points a yes is worth."""

    key: Key
    name: Line
    points: Signed = Decimal(1)
    """Not 0; below 0 where a yes costs points."""


class Checklist(Scaled):
    """Yes-or-no lines, ticked at the table: value = the points of the ticked lines, never below 0."""

    kind: Literal["checklist"] = "checklist"
    lines: tuple[Check, ...] = Field(min_length=1, max_length=20)
    attempts: int = Field(1, ge=1, le=10)
    keep: Keep = "best"


class Time(Scaled):
    """Seconds against the clock plus seconds for faults; a squad that does not finish scores 0 here."""

    kind: Literal["time"] = "time"
    limit: Positive
    """Seconds after which the attempt is over and counts as not finished."""
    planning: Positive | None = None
    """Seconds to plan in before the clock starts."""
    official: Literal["press", "hand"] | None = None
    """Which time counts where it was taken by presses and by hand; that of the presses when absent."""
    fault_seconds: Amount = Decimal(5)
    attempts: int = Field(1, ge=1, le=10)
    keep: Keep = "best"


class Criterion(Record):
    """One line of a rubric: levels are numbered from 1, each with a descriptor of what is seen."""

    key: Key
    name: Annotated[str, StringConstraints(min_length=1, max_length=45, strip_whitespace=True, pattern=ONE_LINE)]
    weight: Positive = Decimal(1)
    levels: tuple[Line, ...] = Field(min_length=3, max_length=6)
    praise: Line | None = None
    """What a squad in the upper half of the levels reads as a strength; the level's own text when absent."""
    next: Line | None = None
    """What a squad can do to get better here, as a thing to do."""


class Rubric(Scaled):
    """Judged on score sheets: a sheet's value = sum of criterion weight x level."""

    kind: Literal["rubric"] = "rubric"
    criteria: tuple[Criterion, ...] = Field(min_length=1, max_length=8)
    panel: Literal["mean", "median", "trimmed", "adjusted"] = "mean"
    """How the sheets of a squad's judges become one value; `adjusted` is the least-squares squad effect."""
    comments: Literal["sheet", "criterion"] = "sheet"
    judges_per_squad: int | None = Field(None, ge=1, le=25)
    """How many judges see each squad; all of them when absent."""


class Share(Scaled):
    """Members who contributed, divided by members."""

    kind: Literal["share"] = "share"


AtTable = Count | Number | Time | Checklist | Share
"""What a scorekeeper records at the table."""
Measure = Annotated[Count | Number | Time | Checklist | Rubric | Share, Field(discriminator="kind")]


class PlaceGroup(Record):
    """Sections that compete for places of their own."""

    sections: tuple[Section, ...] = Field(min_length=1, max_length=25)
    places: int = Field(1, ge=1, le=25)


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
    cautions: tuple[Line, ...] = Field((), max_length=20)
    """Safety lines, shown with the event; the coach confirms them before a timed task."""
    equipment: Equipment | None = None
    """What each squad is given; absent where the number of people here does not matter."""
    least_present: int | None = Field(None, ge=1, le=25)
    """So many members must be here for a squad to run; a coach may let fewer."""
    measures: tuple[Measure, ...] = Field(min_length=1, max_length=6)


class Plan(Record):
    """A whole try-out as the coach means it."""

    name: Line
    zone: str
    """IANA zone name, such as America/New_York."""
    sections: tuple[Section, ...] = Field(min_length=1, max_length=25)
    places: int = Field(1, ge=1, le=25)
    """How many squads win; with `place_groups` the sum of theirs."""
    place_groups: tuple[PlaceGroup, ...] = Field((), max_length=25)
    """Places for sections or groups of sections, each section in one group; without them all compete for all."""
    qualify: Annotated[Decimal, Field(ge=0, le=1000, max_digits=8, decimal_places=4, allow_inf_nan=False)] | None = None
    """The total that a squad needs at least to win a place."""
    brief: Text
    """What the squads must do, in the words of the coach."""
    squads: Squads = Squads(smallest=3, largest=5)
    calendar: Calendar
    events: tuple[Event, ...] = Field(min_length=1, max_length=8)
    practice: Practice | None = None
    """Turns at the shared table; absent where the bot does not look after them."""
    event_day: DayPlan | None = None
    """When and where squads run and are interviewed; absent where the bot makes no timetable."""
    tie_breaks: tuple[str, ...] = Field((), max_length=40)
    """In order: `event` or `event.measure` or `event.measure.criterion`; a run-off follows when all are equal."""
    announce: Literal["winner", "podium", "table"] = "winner"
    protest_days: int = Field(2, ge=0, le=14)
    """School days after the announcement in which procedure and arithmetic may be questioned."""
    retention_days: int = Field(60, ge=1, le=400)
    """Days after the announcement until names and marks are erased."""
