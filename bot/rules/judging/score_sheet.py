"""One score sheet: how it is cut into forms, what is still to mark in it, and what may stand in it.

A form holds five fields at most, so that a rubric of more criteria is marked in several steps; every step is saved by
itself, and nothing that was saved is lost when a later step never comes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.judged_rubrics import rubrics
from storage.records.judging import OpenEvent
from storage.records.plan import Plan
from storage.records.plan_measures import Criterion, Rubric

FIELDS = 5
"""The most fields a form can hold."""
WHOLE = "sheet"
"""The key of a comment on the whole sheet."""
LONGEST_COMMENT = 1000
Marks = Mapping[str, int]
Comments = Mapping[str, str]


@dataclass(frozen=True)
class Step:
    """What one form asks: some criteria, and comments by key (a criterion's, or `sheet`)."""

    criteria: tuple[Criterion, ...]
    comments: tuple[str, ...]


def steps(rubric: Rubric) -> tuple[Step, ...]:
    """The forms in which a rubric is marked, as even as can be, each with its comments."""
    if rubric.comments == "criterion":
        parts = _even(rubric.criteria, FIELDS // 2)
        return tuple(Step(part, tuple(criterion.key for criterion in part)) for part in parts)
    count = -(-(len(rubric.criteria) + 1) // FIELDS)
    parts = _even(rubric.criteria, -(-len(rubric.criteria) // count))
    return tuple(Step(part, (WHOLE,) if number == count else ()) for number, part in enumerate(parts, start=1))


def _even(criteria: Sequence[Criterion], most: int) -> list[tuple[Criterion, ...]]:
    """The criteria in order, in as few groups of at most `most` as possible, whose sizes differ by at most one."""
    count = -(-len(criteria) // most)
    size, longer = divmod(len(criteria), count)
    cuts = [0]
    for number in range(count):
        cuts.append(cuts[-1] + size + (number < longer))
    return [tuple(criteria[start:end]) for start, end in pairwise(cuts)]


def next_step(rubric: Rubric, marks: Marks) -> int:
    """The first step (from 0) with a criterion that is not marked yet; 0 when everything is."""
    for number, step in enumerate(steps(rubric)):
        if any(criterion.key not in marks for criterion in step.criteria):
            return number
    return 0


def is_whole(rubric: Rubric, marks: Marks) -> bool:
    """Whether every criterion is marked."""
    return all(criterion.key in marks for criterion in rubric.criteria)


def missing(rubric: Rubric, marks: Marks) -> tuple[Criterion, ...]:
    """The criteria that are not marked."""
    return tuple(criterion for criterion in rubric.criteria if criterion.key not in marks)


def read_step(step: Step, fields: Mapping[str, str]) -> tuple[dict[str, int], dict[str, str]]:
    """The marks and comments of a filled form; its field keys are `level-CRITERION` and `note-KEY`.

    Raises Refusal: `level_gone` (criterion), when the plan no longer has that level.
    """
    marks = {}
    for criterion in step.criteria:
        typed = fields.get(f"level-{criterion.key}", "")
        if typed:
            marks[criterion.key] = read_level(criterion, typed)
    comments = {key: fields.get(f"note-{key}", "").strip()[:LONGEST_COMMENT] for key in step.comments}
    return marks, comments


def filled_in(plan: Plan, fields: Mapping[str, str]) -> tuple[list[tuple[Criterion, int]], list[str]]:
    """What stands in the form of a sheet that is gone: marks and comments, so that they can be given back.

    Marks of a surprise are not: whoever made up a form would learn its criteria before it starts.
    """
    for rubric in (rubric for event, rubric in rubrics(plan) if not event.surprise):
        found = [(one, fields.get(f"level-{one.key}", "")) for one in rubric.criteria]
        marks = [(one, int(typed)) for one, typed in found if typed in map(str, range(1, len(one.levels) + 1))]
        if len(marks) == sum(key.startswith("level-") and bool(typed) for key, typed in fields.items()):
            break
    else:
        marks = []
    return marks, [typed.strip()[:LONGEST_COMMENT] for key, typed in fields.items() if key.startswith("note-")]


def read_level(criterion: Criterion, typed: str) -> int:
    """A level of a criterion.

    Raises Refusal: `level_gone` (criterion), when there is no such level.
    """
    if not typed.isdecimal() or not 1 <= int(typed) <= len(criterion.levels):
        raise Refusal(Reason.LEVEL_GONE, criterion=criterion.name, most=len(criterion.levels))
    return int(typed)


def with_step(
    step: Step, old: tuple[Marks, Comments], new: tuple[Marks, Comments]
) -> tuple[dict[str, int], dict[str, str]]:
    """A sheet's marks and comments after a step was filled: the step's own are replaced, the others stay.

    A criterion that was left without a mark keeps the mark it had; a comment that was emptied is gone.
    """
    marks = {**old[0], **new[0]}
    comments = {key: text for key, text in old[1].items() if key not in step.comments}
    comments |= {key: text for key, text in new[1].items() if text}
    return marks, comments


def changed_elsewhere(
    criteria: Sequence[Criterion], opened: Marks, now: Marks, entered: Marks
) -> tuple[Criterion, ...]:
    """Criteria that were marked differently somewhere else since the form was opened, and differ from what it says."""
    return tuple(
        criterion
        for criterion in criteria
        if criterion.key in entered
        and opened.get(criterion.key) != now.get(criterion.key)
        and now.get(criterion.key) != entered[criterion.key]
    )


def is_changeable(part: OpenEvent | None, again: bool) -> bool:
    """Whether a sheet may be marked: while its event is open for judging, or where it was opened again."""
    return again or (part is not None and part.closed_at is None)


def check_may_mark(changeable: bool, entered: str = "") -> None:
    """A sheet is marked while it can be changed; `entered` is what would be lost. Raises Refusal `judging_shut`."""
    if not changeable:
        raise Refusal(Reason.JUDGING_SHUT, entered=entered)


def state_of(rubric: Rubric, marks: Marks) -> Literal["submitted", "started"]:
    """A sheet is handed in as soon as every criterion is marked, and not any more once one is not."""
    return "submitted" if is_whole(rubric, marks) else "started"


def closes_again(rubric: Rubric, marks: Marks, last: bool) -> bool:
    """Whether a sheet that was opened again is closed: it is whole, and its `last` part has been saved."""
    return last and is_whole(rubric, marks)
