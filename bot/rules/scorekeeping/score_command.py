"""A score typed as one command: what can be typed as its value, and what is suggested meanwhile."""

from collections.abc import Iterable, Sequence

from bot.rules.core.parse_typed import read_amount, read_points
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.attempt_entry import NOT_TAKEN, Typed, count_of
from bot.rules.scorekeeping.typed_times import Asked, read_watches
from storage.records.people import Squad
from storage.records.plan_measures import Checklist, Count, Measure, Number, Time

_TICKS = {"1": "1", "y": "1", "yes": "1", "0": "0", "n": "0", "no": "0"}


def squads_suggested(said: str, squads: Sequence[Squad]) -> list[Squad]:
    """The squads whose number and name hold what was typed so far, in either case, by number."""
    fitting = [one for one in squads if said.casefold() in f"{one.number} {one.name}".casefold()]
    return sorted(fitting, key=lambda one: one.number)


def measures_suggested(said: str, labels: Iterable[str]) -> list[bool]:
    """Of each measure, by its label, whether it holds what was typed so far, in either case."""
    return [said.casefold() in label.casefold() for label in labels]


def from_line(measure: Measure, text: str) -> Typed:
    """The values of an attempt typed in one line: `14`, `14 3 -5`, `12.35`, `yes no yes`, `1:32.4 2`, `dnf`, `4`.

    Raises Refusal: `typed_…`.
    """
    parts = text.replace(";", " ").split()
    if isinstance(measure, Count):
        return _count_line(measure, parts, text)
    if isinstance(measure, Number):
        return (f"{read_amount(text, measure.name, measure.unit):f}",)
    if isinstance(measure, Checklist):
        return _checklist_line(measure, parts, text)
    if isinstance(measure, Time):
        if not 1 <= len(parts) <= 2:
            raise Refusal(TableReason.TYPED_LINE_TIME, typed=text)
        faults = str(count_of(parts[1].removeprefix("+") if len(parts) > 1 else "0", Asked.FAULTS))
        return ("dnf", faults) if parts[0].lower() == "dnf" else (NOT_TAKEN, faults, str(read_watches(parts[0])))
    return (str(count_of(text.partition("/")[0], Asked.CONTRIBUTING)),)


def _count_line(measure: Count, parts: list[str], text: str) -> Typed:
    off = [part for part in parts if part.startswith("-")]
    counts = [part for part in parts if not part.startswith("-")]
    if len(counts) != len(measure.items) or len(off) > 1:
        names = ", ".join(item.name for item in measure.items)
        raise Refusal(TableReason.TYPED_LINE_COUNT, typed=text, names=names)
    read = [count_of(part, item.name) for part, item in zip(counts, measure.items, strict=True)]
    return ",".join(map(str, read)), str(read_points(off[0] if off else "0", Asked.POINTS_OFF))


def _checklist_line(measure: Checklist, parts: list[str], text: str) -> Typed:
    single = parts[0] if len(parts) == 1 else ""
    ticks = [_TICKS.get(part.lower()) for part in (single if set(single) <= set("01yn") and single else parts)]
    if len(ticks) != len(measure.lines) or None in ticks:
        names = ", ".join(line.name for line in measure.lines)
        raise Refusal(TableReason.TYPED_LINE_CHECKLIST, typed=text, names=names)
    return ("".join(filter(None, ticks)),)
