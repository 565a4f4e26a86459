"""What the standings say: frozen values from the raw attempt up to the rank.

Every number is an exact `Fraction`. Squads are named by their id and, for showing, by their number.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from bot.rules.scoring.severity_model import Fit

GapKind = Literal["no_attempt", "too_few_attempts", "no_sheet", "open_sheet", "unconnected", "all_excused"]
EventState = Literal["scored", "absent", "excused", "incomplete"]


@dataclass(frozen=True, slots=True)
class Gap:
    """Something that is missing, so that a squad cannot be ranked yet.

    `no_attempt` and `too_few_attempts` (have, need): nobody has recorded the official attempts that the plan asks for.
    `no_sheet`: no judge whose marks count has this squad. `open_sheet`: the sheet of judge `judge_id` is not handed in.
    `unconnected`: no chain of common judges links this squad's panel with those of the most squads, so that their
    adjusted marks cannot be compared (where no part of the panels is the largest, with those of any other part).
    `all_excused`: no event is left to take a mean of.
    """

    kind: GapKind
    event: str = ""
    measure: str = ""
    judge_id: int | None = None
    judge_number: int | None = None
    have: int = 0
    need: int = 0
    linked: tuple[int, ...] = ()
    """`unconnected`: the squads of the same part, this one among them; these could be compared with each other."""


@dataclass(frozen=True, slots=True)
class AttemptScore:
    """One official attempt; `value` is None when a timed attempt did not finish."""

    attempt_id: int
    number: int
    value: Fraction | None


@dataclass(frozen=True, slots=True)
class SheetScore:
    """One sheet that was handed in; a judge's of weight 0 is shown and not counted."""

    judge_id: int
    judge_number: int
    weight: Fraction
    marks: Mapping[str, int]
    value: Fraction

    @property
    def shown_only(self) -> bool:
        """Whether the sheet is shown only."""
        return self.weight == 0


@dataclass(frozen=True, slots=True)
class MeasureScore:
    """What a squad reached in one measure.

    `value` is in the measure's own unit (points, seconds, sheet points, share) and None when there is none: the timed
    squad did not finish (then `scaled` is 0), or something is missing (then `scaled` is None).
    """

    key: str
    kind: Literal["count", "number", "time", "checklist", "rubric", "share"]
    share: Fraction
    """The measure's share of the event, 0 to 1."""
    attempts: tuple[AttemptScore, ...]
    attempts_allowed: int
    sheets: tuple[SheetScore, ...]
    value: Fraction | None
    scaled: Fraction | None


@dataclass(frozen=True, slots=True)
class EventScore:
    """What a squad reached in one event: its points and what they give to the total.

    Points lie between 0 and 100; above 100 only where the plan lets a value above its maximum count.
    """

    key: str
    state: EventState
    points: Fraction | None
    share: Fraction
    """The event's share of this squad's total, 0 to 1; 0 when excused."""
    contribution: Fraction | None
    """Share x points: the contributions of a ranked squad add up to its total."""
    measures: tuple[MeasureScore, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One squad's whole way to its total; `rank` and `total` are None while something is missing."""

    squad_id: int
    number: int
    rank: int | None
    total: Fraction | None
    events: tuple[EventScore, ...]
    gaps: tuple[Gap, ...]


@dataclass(frozen=True, slots=True)
class TieStep:
    """One rule that was tried on squads with equal totals, and the groups that it left, best first.

    `by` is the plan's tie-break, or `run-off 1 event.measure` and so on.
    """

    by: str
    values: Mapping[int, Fraction | None]
    groups: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Tie:
    """Squads with exactly the same total, and how far the tie-breaks and run-offs separated them."""

    squads: tuple[int, ...]
    rank: int
    steps: tuple[TieStep, ...]
    left: tuple[tuple[int, ...], ...]
    """Groups that share a rank after every step; empty when all were separated."""


@dataclass(frozen=True, slots=True)
class Straddle:
    """A remaining tie for the last place: more squads share the rank than places are left."""

    squads: tuple[int, ...]
    rank: int
    places_left: int


@dataclass(frozen=True, slots=True)
class Contest:
    """Some places, and the ranked squads that may win one of them."""

    sections: tuple[str, ...]
    """Whose places these are; empty where all sections compete for all places."""
    places: int
    squads: frozenset[int]


@dataclass(frozen=True, slots=True)
class Standings:
    """The order of the squads, and everything that stands behind it."""

    weights: Mapping[str, Fraction]
    """By event: its share of the total of a squad that is not excused, 0 to 1, in the plan's order."""
    places: int
    rows: tuple[Row, ...]
    """Ranked squads, best first; squads that share a rank stand in the order of their numbers."""
    unranked: tuple[Row, ...]
    """Squads with gaps, in the order of their numbers."""
    ties: tuple[Tie, ...]
    straddle: Straddle | None
    """The tie that must be settled by a run-off before an announcement; of several, the first."""
    placed: tuple[int, ...]
    """Squads that hold a place, best first; those of a straddling tie are not among them."""
    contests: tuple[Contest, ...]
    """What is competed for: one contest, or one for each group of sections."""
    plain: bool
    """Whether all squads compete for all places and no minimum is set, so that the order alone says who wins."""
    fits: Mapping[str, Fit]
    """The judge effects behind each measure whose panel rule is `adjusted`, by `event.measure`."""

    @property
    def complete(self) -> bool:
        """Whether every squad could be ranked."""
        return not self.unranked

    @property
    def gaps(self) -> tuple[tuple[int, Gap], ...]:
        """All that is missing, as pairs of squad id and gap."""
        return tuple((row.squad_id, gap) for row in self.unranked for gap in row.gaps)

    def row(self, squad_id: int) -> Row:
        """The row of one squad, ranked or not; raises `KeyError` for a squad that does not take part."""
        for row in (*self.rows, *self.unranked):
            if row.squad_id == squad_id:
                return row
        raise KeyError(squad_id)
