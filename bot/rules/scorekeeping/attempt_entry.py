"""One attempt as it was typed: from a form to the few values that a button can carry, and to their meaning.

The values are texts without colons, so that they fit into a key. Count: the counts in the plan's order joined by
commas, then the points off. Number: the value. Checklist: 1 or 0 for each line in the plan's order, without spaces.
Time: between the presses, faults, by hand (`-` for a time that was not taken), and which of the two counts where that
is not as the plan says; or `dnf` and faults. Share: the members who contributed.
"""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from bot.rules.core.parse_typed import read_amount, read_count, read_points
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.typed_times import Asked, read_watches
from storage.records.plan_defaults import OFFICIAL
from storage.records.plan_measures import AtTable, Checklist, Count, Measure, Number, Time

Typed = tuple[str, ...]
NOT_TAKEN = "-"
AT_FIRST = {"deductions": "0", "faults": "0", "finished": "yes"}
"""What stands in the fields of a form at first, where something does: no points off, no faults, a run to its end."""
MOST_COUNT = 999
"""More of one thing than this, typed for one attempt, is a slip of the thumb."""
_NUMBER = re.compile(r"-?[0-9]{1,12}(\.[0-9]{1,9})?")


def from_form(measure: Measure, fields: Mapping[str, str], press: str = NOT_TAKEN) -> Typed:
    """The values of a submitted form, whose fields are `item-KEY` and `deductions`; `amount`; `ticked` (the keys of
    lines, one a line); `time`, `faults`, `finished`; or `contributing`. `press` is the time taken by presses before.

    Raises Refusal: `typed_…`.
    """
    if isinstance(measure, Count):
        counts = [count_of(fields.get(f"item-{item.key}", ""), item.name) for item in measure.items]
        return ",".join(map(str, counts)), str(read_points(fields.get("deductions", "0"), Asked.POINTS_OFF))
    if isinstance(measure, Number):
        return (f"{read_amount(fields.get('amount', ''), measure.name, measure.unit):f}",)
    if isinstance(measure, Checklist):
        ticked = fields.get("ticked", "").split()
        return ("".join("1" if line.key in ticked else "0" for line in measure.lines),)
    if isinstance(measure, Time):
        faults = str(count_of(fields.get("faults", "0"), Asked.FAULTS))
        if fields.get("finished") == "no":
            return "dnf", faults
        hand = fields.get("time", "").strip()
        if not hand and press != NOT_TAKEN:
            return press, faults, NOT_TAKEN
        return press, faults, str(read_watches(hand))
    return (str(count_of(fields.get("contributing", ""), Asked.CONTRIBUTING)),)


def read_code(code: str) -> tuple[int, bool]:
    """The number of an attempt, and whether it is a run-off, from a key: `2`, or `r1`; Refusal `out_of_date`."""
    found = re.fullmatch(r"(r?)([1-9][0-9]{0,2})", code)
    if found is None:
        raise Refusal(Reason.OUT_OF_DATE)
    return int(found[2]), found[1] == "r"


def typed_time(values: Typed) -> tuple[str, str]:
    """What was typed of a time before: the time by hand (empty where none was, or `dnf`), and the faults."""
    if not values:
        return "", ""
    hand = values[2] if len(values) > 2 else values[0]
    return ("" if hand == NOT_TAKEN else hand), values[1]


def check_values(measure: Measure, values: Typed) -> None:
    """The values may be one attempt's at this measure, or a Refusal: `plan_moved`."""
    if isinstance(measure, Time):
        fits = len(values) in (2, 3, 4) and values[3:] in ((), ("press",), ("hand",))
        fits = fits and all(_NUMBER.fullmatch(one) or one in (NOT_TAKEN, "dnf") for one in (values[0], *values[2:3]))
    else:
        fits = len(values) == (2 if isinstance(measure, Count) else 1)
    if fits and isinstance(measure, Count):
        fits = values[0].count(",") + 1 == len(measure.items)
    if fits and isinstance(measure, Checklist):
        fits = len(values[0]) == len(measure.lines)
    if not fits:
        raise Refusal(TableReason.PLAN_MOVED)


def meaning(measure: AtTable, values: Typed, members: int) -> dict[str, Any]:
    """The fields of an `Attempt` that the values stand for.

    Raises Refusal: `plan_moved` when the plan no longer fits them; `out_of_date` when they are none of ours.
    """
    check_values(measure, values)
    if isinstance(measure, Count):
        counts = zip(measure.items, values[0].split(","), strict=True)
        items = {item.key: _whole(one) for item, one in counts}
        return {"items": items, "deductions": _number(values[1])}
    if isinstance(measure, Number):
        return {"amount": _number(values[0])}
    if isinstance(measure, Checklist):
        return {"items": {line.key: _whole(tick) for line, tick in zip(measure.lines, values[0], strict=True)}}
    if isinstance(measure, Time):
        return _times(measure, values)
    return {"contributing": _whole(values[0]), "members": members}


def _times(measure: Time, values: Typed) -> dict[str, Any]:
    """Both times, and the one that counts: as chosen, as the plan says, or the only one there is."""
    faults = _whole(values[1])
    if len(values) == 2:
        return {"seconds": None if values[0] == "dnf" else _number(values[0]), "faults": faults}
    taken = {"press": values[0], "hand": values[2]}
    times = {name: None if text == NOT_TAKEN else _number(text) for name, text in taken.items()}
    official = values[3] if len(values) == 4 else measure.official or OFFICIAL
    seconds = times[official] if times[official] is not None else times["press"] or times["hand"]
    if seconds is None:
        raise Refusal(Reason.OUT_OF_DATE)
    return {"seconds": seconds, "faults": faults, "press_seconds": times["press"], "hand_seconds": times["hand"]}


def _whole(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,9}", text):
        raise Refusal(Reason.OUT_OF_DATE)
    return int(text)


def _number(text: str) -> Decimal:
    if not _NUMBER.fullmatch(text):
        raise Refusal(Reason.OUT_OF_DATE)
    return Decimal(text)


def count_of(text: str, what: object) -> int:
    """How many of something, as typed. Raises Refusal: `typed_…`."""
    return read_count(text, what, MOST_COUNT)
