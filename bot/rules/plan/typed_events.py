"""Events as a coach types them, each in a line such as `Bridge = number kg lower`: what may be typed, what it means."""

import re
from dataclasses import dataclass

from bot.rules.core.parse_lists import read_list
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records import plan_limits as limits
from storage.records.plan import Event
from storage.records.plan_measures import Count, Number

KINDS = {"count": "count", "time": "time", "judges": "rubric", "judged": "rubric", "rubric": "rubric",
         "checklist": "checklist", "number": "number"}  # fmt: skip
"""What may be typed, and the kind of measure that is meant."""
LONGEST_NAME = 60


@dataclass(frozen=True)
class Asked:
    """One event as it was asked for."""

    typed: str
    key: str
    name: str
    kind: str
    unit: str = ""
    lower: bool = False


def read_events(typed: str) -> tuple[Asked, ...]:
    """Events such as `Bridge = number kg lower, Poster = judges`.

    Raises Refusal: `typed_event` (typed), `typed_events` (typed) for none, too many, or two of one name.
    """
    found: list[Asked] = []
    for part in read_list(typed):
        name, _, how = part.rpartition("=")
        words = how.split()
        kind = KINDS.get(words[0].casefold()) if words else None
        rest = [word for word in words[1:] if word.casefold() != "lower"]
        if kind is None or not name.strip() or len(name) > LONGEST_NAME or len(rest) != (1 if kind == "number" else 0):
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        if rest and len(rest[0]) > limits.UNIT_LETTERS:
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        lower = len(rest) < len(words) - 1
        if lower and kind not in ("count", "number"):
            raise Refusal(Reason.TYPED_EVENT, typed=part)
        found.append(Asked(part, _key(name, len(found) + 1), name.strip(), kind, "".join(rest), lower))
    if not 1 <= len(found) <= limits.EVENTS.most or len({one.key for one in found}) < len(found):
        raise Refusal(Reason.TYPED_EVENTS, typed=typed)
    return tuple(found)


def typed_event(event: Event) -> str:
    """An event as it would be typed, by its first measure."""
    measure = event.measures[0]
    kind = next((word for word, kind in KINDS.items() if kind == measure.kind), "judges")
    unit = f" {measure.unit}" if isinstance(measure, Number) else ""
    lower = " lower" if isinstance(measure, Count | Number) and measure.better == "lower" else ""
    return f"{event.name} = {kind}{unit}{lower}"


def _key(name: str, number: int) -> str:
    plain = re.sub(r"[^a-z0-9]+", "-", name.strip().casefold()).strip("-")[: limits.KEY_LETTERS].strip("-")
    return plain if re.match(r"[a-z]", plain) else f"event-{number}"
