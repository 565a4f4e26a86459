"""The trial: how a judge's reading of the rubric compares with the panel's, before any real mark is made."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import median

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.judging import Trial
from storage.records.people import Judge
from storage.records.plan import Event
from storage.records.plan_measures import Criterion, Rubric

ENOUGH = 3
"""With fewer judges the middle of the panel would give away a single judge's mark."""
COMPARED_FROM = 2
"""So many judges must have marked the sample before the coach sees how they compare."""
NEAR = 1
"""Levels from the middle of the panel up to which a judge reads the rubric as the others do."""
FAR_APART = 2
"""Levels between two judges of the trial that are worth a talk."""
SHORTEST_SAMPLE, LONGEST_SAMPLE = 20, 1500
"""Characters of the invented entry."""
Marks = Mapping[str, int]


@dataclass(frozen=True)
class Reading:
    """How one criterion of the invented entry was marked."""

    criterion: Criterion
    lowest: int
    middle: Fraction
    """The median of the levels."""
    highest: int

    @property
    def far_apart(self) -> bool:
        """Whether two judges differ so far that it is worth a talk."""
        return self.highest - self.lowest >= FAR_APART


def check_may_compare(has_marked: bool, done: int) -> None:
    """A judge sees how they compare once they have marked the sample, and `ENOUGH` judges have.

    Raises:
        Refusal: `trial_first`, `trial_alone` (enough).
    """
    if not has_marked:
        raise Refusal(Reason.TRIAL_FIRST)
    if not enough_have_marked(done):
        raise Refusal(Reason.TRIAL_ALONE, enough=ENOUGH)


def enough_have_marked(done: int) -> bool:
    """Whether judges can see how they compare."""
    return done >= ENOUGH


def asks_the_same(before: Rubric, now: Rubric) -> bool:
    """Whether marks in one form of a rubric are marks in the other: the same criteria with as many levels."""
    one, other = ([(line.key, len(line.levels)) for line in rubric.criteria] for rubric in (before, now))
    return one == other


def readings(rubric: Rubric, sheets: Sequence[Marks]) -> tuple[Reading, ...]:
    """For each criterion the lowest, middle and highest level; of whole sheets, of which there is at least one."""
    found = []
    for criterion in rubric.criteria:
        levels = [marks[criterion.key] for marks in sheets]
        found.append(Reading(criterion, min(levels), median(map(Fraction, levels)), max(levels)))
    return tuple(found)


def off_by(reading: Reading, marks: Marks) -> Fraction:
    """How many levels a judge is above (or, negative, below) the middle of the panel."""
    return marks[reading.criterion.key] - reading.middle


def is_near(reading: Reading, marks: Marks) -> bool:
    """Whether a judge reads a criterion as the others do; else the judge is asked to read its levels once more."""
    return abs(off_by(reading, marks)) <= NEAR


def share_near(found: Sequence[Reading], sheets: Sequence[Marks]) -> Fraction:
    """The share of all marks that lie within `NEAR` levels of the panel's middle; 1 when there are none."""
    close = [is_near(reading, marks) for reading in found for marks in sheets]
    return Fraction(sum(close), len(close)) if close else Fraction(1)


def read_sample(typed: str) -> str:
    """What the invented entry is. Raises Refusal `trial_empty`."""
    sample = typed.strip()[:LONGEST_SAMPLE]
    if not sample:
        raise Refusal(Reason.TRIAL_EMPTY)
    return sample


def check_may_begin(another_runs: bool) -> None:
    """One trial runs at a time. Raises Refusal `trial_runs`."""
    if another_runs:
        raise Refusal(Reason.TRIAL_RUNS)


def to_try_out(judged: Sequence[tuple[Event, Rubric]], sealed: Collection[str]) -> list[tuple[Event, Rubric]]:
    """What can be tried out: a surprise only once it has started, because every judge reads what is marked in it.

    `sealed` are keys of surprises that have not. Raises Refusal: `trial_sealed`, `rubric_gone`.
    """
    found = [what for what in judged if what[0].key not in sealed]
    if not found:
        raise Refusal(Reason.TRIAL_SEALED if judged else Reason.RUBRIC_GONE)
    return found


def check_may_try_out(event: Event, sealed: Collection[str]) -> None:
    """No surprise is tried out before its start. Raises Refusal `trial_sealed`."""
    if event.key in sealed:
        raise Refusal(Reason.TRIAL_SEALED)


def is_invited(judge: Judge) -> bool:
    """Whether a judge is told that a trial has begun: one who has agreed to judge."""
    return judge.opted_in_at is not None


def check_may_mark(whole: bool) -> None:
    """Once every line of the sample is marked, a judge's marks stay as they are. Raises Refusal `trial_done`."""
    if whole:
        raise Refusal(Reason.TRIAL_DONE)


def is_finished(whole: int, judges: int) -> bool:
    """Whether the office is told that the trial is done: once every judge has marked all of the sample."""
    return whole == judges


def compared(rubric: Rubric, sheets: Sequence[Marks]) -> tuple[Reading, ...]:
    """How the judges read the sample, as the coach sees it; nothing while only one has marked it."""
    return readings(rubric, sheets) if len(sheets) >= COMPARED_FROM else ()


def still_fits(before: Rubric | None, now: Rubric | None) -> bool:
    """Whether a trial is kept when the plan changes: what it is about is there still, and asks the same."""
    return before is not None and now is not None and asks_the_same(before, now)


def shown(trials: Sequence[Trial]) -> Trial | None:
    """The trial that the coach sees, of all, the oldest first: the newest one, open or not."""
    return trials[-1] if trials else None
