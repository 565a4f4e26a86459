"""An event that is changed by form: how its criteria are typed, and which keys and weights they keep."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Event
from storage.records.plan_limits import LEVELS
from storage.records.plan_measures import Criterion, Rubric


def read_criteria(text: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Lines of a rubric such as `One idea: none | some | all`: each a name and its levels, the lowest first.

    Raises Refusal: `typed_criterion` (typed).
    """
    found = []
    for line in filter(None, map(str.strip, text.splitlines())):
        name, colon, rest = line.partition(":")
        levels = tuple(level.strip() for level in rest.split("|"))
        if not (name.strip() and colon and LEVELS.least <= len(levels) <= LEVELS.most and all(levels)):
            raise Refusal(Reason.TYPED_CRITERION, typed=line if len(line) <= 100 else f"{line[:99]}…")
        found.append((name.strip(), levels))
    return tuple(found)


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
