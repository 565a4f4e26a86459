"""A run sheet that was filled in on paper: whose turn it is to type in which part, and where two entries differ.

Each attempt, and who was here, is typed in twice by two people, and saved when both say the same. Differences are
settled by another look at the paper.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.scorekeeping.attempt_entry import NOT_TAKEN, Typed, from_form
from storage.records.event_day import RunEntry
from storage.records.plan_measures import AtTable, Checklist, Count, Number, Time
from storage.records.scores import Absence

Fields = Mapping[str, str]
"""What stands in a form, by the key of the field."""
PRESENCE = 0
"""The number of the part that says who was here; attempts count from 1."""
HERE = "here"
AT_FIRST: Fields = {}
"""What stands in a form when it is opened: nothing typed, chosen or ticked, so that all of it comes from the paper."""


def forms(measure: AtTable, number: int) -> tuple[tuple[str, ...], ...]:
    """The fields of a part, form by form: with five kinds of items there is no room for points off in the first."""
    if number == PRESENCE:
        return ((HERE,),)
    if isinstance(measure, Count):
        items = tuple(f"item-{item.key}" for item in measure.items)
        return (items, ("deductions",)) if len(items) == 5 else ((*items, "deductions"),)
    if isinstance(measure, Number):
        return (("amount",),)
    if isinstance(measure, Checklist):
        return (("ticked",),)
    if isinstance(measure, Time):
        return (("time", "faults", "finished"),)
    return (("contributing",),)


def next_form(measure: AtTable, number: int, fields: Fields) -> int | None:
    """The first form of a part in which something is still to be typed; None where it is whole."""
    for place, keys in enumerate(forms(measure, number)):
        if not fields.keys() >= set(keys):
            return place
    return None


def with_form(measure: AtTable, number: int, place: int, before: Fields, typed: Fields) -> dict[str, str]:
    """What was typed before with one more form, written the same however it was typed: `1:32.4` and `92.4` are one.

    Raises Refusal: `typed_…`, where a field cannot be read.
    """
    keys = forms(measure, number)[place]
    if number == PRESENCE:
        return {HERE: " ".join(sorted(filter(str.isdecimal, set(typed.get(HERE, "").split())), key=int))}
    read = written(measure, from_form(measure, {**before, **{key: typed.get(key, "") for key in keys}}))
    return {**before, **{key: read[key] for key in keys}}


def values(measure: AtTable, fields: Fields) -> Typed:
    """The values of a whole attempt, as `attempt_entry` knows them."""
    return from_form(measure, fields)


def written(measure: AtTable, typed: Typed) -> dict[str, str]:
    """The fields of a form in which exactly these values would stand."""
    if isinstance(measure, Count):
        counts = zip(measure.items, typed[0].split(","), strict=True)
        return {**{f"item-{item.key}": one for item, one in counts}, "deductions": _plain(typed[1])}
    if isinstance(measure, Number):
        return {"amount": _plain(typed[0])}
    if isinstance(measure, Checklist):
        ticked = (line.key for line, tick in zip(measure.lines, typed[0], strict=True) if tick == "1")
        return {"ticked": " ".join(ticked)}
    if isinstance(measure, Time):
        if typed[0] == "dnf":
            return {"time": "", "faults": typed[1], "finished": "no"}
        return {"time": "" if typed[2] == NOT_TAKEN else _plain(typed[2]), "faults": typed[1], "finished": "yes"}
    return {"contributing": typed[0]}


def _plain(number: str) -> str:
    return f"{Decimal(number).normalize():f}"


def differing(first: Fields, second: Fields) -> tuple[str, ...]:
    """The fields in which two whole entries differ; a time and whether it was finished go together."""
    found = [key for key in first if first[key] != second.get(key)]
    if {"time", "finished"} & set(found):
        found = [key for key in first if key in found or key in {"time", "finished"}]
    return tuple(found)


@dataclass(frozen=True)
class Turn:
    """What somebody types in next."""

    number: int
    """Of the attempt; 0: who was here."""
    entry: int
    """1 or 2: the first or the second time."""
    differs: bool = False
    """Both entries are there and differ: the paper is looked at again."""


def turn(measure: AtTable, entries: Sequence[RunEntry], first: int, last: int, who: int) -> Turn | None:
    """What somebody types in next of the parts from `first` on, which is the one to be saved next, up to `last`.

    None where others have to type in what is left: nobody types the same part in twice.
    """
    kept = {(one.number, one.entry): one for one in entries}
    for number in range(first, last + 1):
        one, other = kept.get((number, 1)), kept.get((number, 2))
        if one is None or next_form(measure, number, one.fields) is not None:
            return Turn(number, 1)
        if other is not None and next_form(measure, number, other.fields) is None:
            return Turn(number, 2, differs=True)
        if one.entered_by != who:
            return Turn(number, 2) if number == first else None
    return None


def turn_of_attempts(
    measure: AtTable, entries: Iterable[RunEntry], made: int, allowed: int, who: int, absent: bool
) -> Turn | None:
    """Which attempt somebody types in next: from the first that is not on record on; none of an absent squad."""
    return None if absent else turn(measure, [one for one in entries if one.measure], made + 1, allowed, who)


def turn_of_presence(measure: AtTable, entries: Iterable[RunEntry], who: int, members: int) -> Turn | None:
    """The same of who was here; nothing where the squad has no members."""
    mine = [one for one in entries if not one.measure]
    return turn(measure, mine, PRESENCE, PRESENCE, who) if members else None


def is_listed(done: bool, typed_once: bool) -> bool:
    """Whether something of a squad can still be typed in: attempts are awaited, or something was typed in once."""
    return typed_once or not done


def entries_for(measure: AtTable, entries: Iterable[RunEntry], who: int) -> tuple[RunEntry, ...]:
    """The entries that somebody goes on with, of which each is one person's.

    Half of one by somebody else is thrown away, and nobody types in parts of both.
    """
    return tuple(one for one in entries if one.entered_by == who or next_form(measure, one.number, one.fields) is None)


def check_part(number: int, made: int, allowed: int, typed_once: bool, found: Turn | None) -> Turn:
    """The turn of a part that was asked for; `found` is what is typed in next.

    Raises Refusal: `sheet_two_people`, `sheet_old`.
    """
    if PRESENCE < number <= made or number > allowed:
        raise Refusal(DayReason.SHEET_OLD)
    if typed_once and (found is None or found.number > number):
        raise Refusal(DayReason.SHEET_TWO_PEOPLE)
    if found is None or found.number != number:
        raise Refusal(DayReason.SHEET_OLD)
    return found


def check_next(found: Turn, entry: int, place: int, due: int | None) -> None:
    """What was typed is what is due now: this entry, and this form of it. Raises Refusal: `sheet_old`."""
    if found.differs or (found.entry, due) != (entry, place):
        raise Refusal(DayReason.SHEET_OLD)


def check_differs(number: int, found: Turn | None) -> None:
    """Both entries of a part are there and differ. Raises Refusal: `sheet_old`."""
    if found is None or not found.differs or found.number != number:
        raise Refusal(DayReason.SHEET_OLD)


def absence_after(squad_id: int, event: str, here: int, before: Absence | None) -> Absence | None:
    """What is noted once a sheet says how many were here: nobody is absent; an absence falls that nobody excused."""
    if not here:
        return before or Absence(squad_id=squad_id, event=event, excused=False, reason="")
    return before if before is not None and before.excused else None
