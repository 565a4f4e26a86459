"""What is kept of an event that is changed by form: keys and weights of its criteria, so that marks keep their line."""

from collections.abc import Sequence

from storage.records.plan import Event
from storage.records.plan_measures import Criterion, Rubric


def criteria_as_typed(rubric: Rubric, read: Sequence[tuple[str, tuple[str, ...]]]) -> tuple[Criterion, ...]:
    """The typed lines with the keys and weights of those that stood there; more lines get keys of their own."""
    taken = {one.key for one in rubric.criteria}
    free = (key for number in range(1, 100) if (key := f"line-{number}") not in taken)
    made = []
    for place, (name, levels) in enumerate(read):
        old = rubric.criteria[place] if place < len(rubric.criteria) else None
        if old is None:
            made.append(Criterion.model_construct(key=next(free), name=name, levels=levels))
        else:
            made.append(old.model_copy(update={"name": name, "levels": levels}))
    return tuple(made)


def rubric_in_form(event: Event) -> Rubric | None:
    """The rubric that the form of an event shows, if it has one: the first."""
    return next((one for one in event.measures if isinstance(one, Rubric)), None)
