"""What is measured in an event of a plan: counts, numbers, times, checklists, rubrics, shares, each with its scale."""

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from storage.records import plan_defaults as defaults
from storage.records import plan_limits as limits
from storage.records.base import Record
from storage.records.plan_value_types import (
    ONE_LINE,
    Amount,
    Better,
    Keep,
    Key,
    Line,
    Positive,
    Signed,
)


class Scaled(Record):
    """What every measure has: its key, name, weight within the event, and the scale that turns it into 0 to 1."""

    key: Key
    name: Line
    weight: Positive = defaults.WEIGHT
    scale: Literal["maximum", "best", "between", "rank", "standard"] = defaults.SCALE
    maximum: Positive | None = None
    """For the scale `maximum`: the value worth 1; where lower is better, and for a time, the value worth 0."""
    over_maximum: Literal["cap", "count"] = defaults.OVER_MAXIMUM
    """For the scale `maximum`: a value above it counts as the maximum, or keeps its lead and earns more than 100."""
    floor: Signed | None = None
    """For the scale `between`: the value worth 0."""
    full: Signed | None = None
    """For the scale `between`: the value worth 1; below `floor` where lower is better."""


class Item(Record):
    """A kind of thing that is counted, or a bonus or penalty with a name, and the points each one is worth."""

    key: Key
    name: Line
    points: Signed = defaults.ITEM_POINTS
    """Not 0; below 0 for a penalty."""
    most: int | None = Field(None, ge=limits.ITEMS_THERE_ARE.least, le=limits.ITEMS_THERE_ARE.most)
    """How many there are; typing more is asked about before it is saved."""


class Count(Scaled):
    """Items counted: value = sum of items x points - deductions, never below 0.

    Where lower is better, as when mistakes are counted, deductions are points added.
    """

    kind: Literal["count"] = "count"
    items: tuple[Item, ...] = Field(min_length=limits.ITEMS.least, max_length=limits.ITEMS.most)
    better: Better = defaults.BETTER
    attempts: int = Field(defaults.ATTEMPTS_AT_COUNT, ge=limits.ATTEMPTS.least, le=limits.ATTEMPTS.most)
    keep: Keep = defaults.KEEP
    seconds: Positive | None = None
    """How long one run lasts; the run pad shows when it ends."""


class Number(Scaled):
    """A measured value, such as a mass in grams or a length in centimetres."""

    kind: Literal["number"] = "number"
    unit: Annotated[
        str, StringConstraints(min_length=1, max_length=limits.UNIT_LETTERS, strip_whitespace=True, pattern=ONE_LINE)
    ]
    """Shown after the number, such as kg."""
    decimals: int = Field(defaults.TYPED_DECIMALS, ge=limits.TYPED_DECIMALS.least, le=limits.TYPED_DECIMALS.most)
    """The most digits after the decimal point that may be typed."""
    lowest: Signed = defaults.LOWEST
    highest: Signed
    """The range of values that are possible; anything outside is a slip and is refused."""
    better: Better = defaults.BETTER
    attempts: int = Field(defaults.ATTEMPTS, ge=limits.ATTEMPTS.least, le=limits.ATTEMPTS.most)
    keep: Keep = defaults.KEEP


class Check(Record):
    """One yes-or-no line of a checklist, and the points a yes is worth."""

    key: Key
    name: Line
    points: Signed = defaults.CHECK_POINTS
    """Not 0; below 0 where a yes costs points."""


class Checklist(Scaled):
    """Yes-or-no lines, ticked at the table: value = the points of the ticked lines, never below 0."""

    kind: Literal["checklist"] = "checklist"
    lines: tuple[Check, ...] = Field(min_length=limits.CHECKLIST_LINES.least, max_length=limits.CHECKLIST_LINES.most)
    attempts: int = Field(defaults.ATTEMPTS, ge=limits.ATTEMPTS.least, le=limits.ATTEMPTS.most)
    keep: Keep = defaults.KEEP


class Time(Scaled):
    """Seconds against the clock plus seconds for faults; a squad that does not finish scores 0 here."""

    kind: Literal["time"] = "time"
    limit: Positive
    """Seconds after which the attempt is over and counts as not finished."""
    planning: Positive | None = None
    """Seconds to plan in before the clock starts."""
    official: Literal["press", "hand"] | None = None
    """Which time counts where it was taken by presses and by hand; that of the presses when absent."""
    fault_seconds: Amount = defaults.FAULT_SECONDS
    attempts: int = Field(defaults.ATTEMPTS, ge=limits.ATTEMPTS.least, le=limits.ATTEMPTS.most)
    keep: Keep = defaults.KEEP


class Criterion(Record):
    """One line of a rubric: levels are numbered from 1, each with a descriptor of what is seen."""

    key: Key
    name: Annotated[
        str,
        StringConstraints(min_length=1, max_length=limits.CRITERION_LETTERS, strip_whitespace=True, pattern=ONE_LINE),
    ]
    weight: Positive = defaults.WEIGHT
    levels: tuple[Line, ...] = Field(min_length=limits.LEVELS.least, max_length=limits.LEVELS.most)
    praise: Line | None = None
    """What a squad in the upper half of the levels reads as a strength; the level's own text when absent."""
    next: Line | None = None
    """What a squad can do to get better here, as a thing to do."""


class Rubric(Scaled):
    """Judged on score sheets: a sheet's value = sum of criterion weight x level."""

    kind: Literal["rubric"] = "rubric"
    criteria: tuple[Criterion, ...] = Field(min_length=limits.CRITERIA.least, max_length=limits.CRITERIA.most)
    panel: Literal["mean", "median", "trimmed", "adjusted"] = defaults.PANEL
    """How the sheets of a squad's judges become one value; `adjusted` is the least-squares squad effect."""
    comments: Literal["sheet", "criterion"] = defaults.COMMENTS
    judges_per_squad: int | None = Field(None, ge=limits.JUDGES_PER_SQUAD.least, le=limits.JUDGES_PER_SQUAD.most)
    """How many judges see each squad; all of them when absent."""


class Share(Scaled):
    """Members who contributed, divided by members."""

    kind: Literal["share"] = "share"


AtTable = Count | Number | Time | Checklist | Share
"""What a scorekeeper records at the table."""


Measure = Annotated[Count | Number | Time | Checklist | Rubric | Share, Field(discriminator="kind")]
