"""The results packet: everything needed to recompute the standings, with people replaced by numbers.

One JSON object. It names no student, judge or coach and holds no platform id, time, comment or reason; squads and
judges appear by number. What the coach wrote into the plan is in it word for word, because its fingerprint covers it.

    format, version   "tenbell-results", 1
    plan              the plan as a TOML file, in one string
    plan_sha256       SHA-256 of that string in UTF-8: the fingerprint that was posted with the brief
    formulas          how every number is made, in words for whoever recomputes them; nothing is computed from it
    squads            numbers of the squads that take part
    groups            where places go by sections: for each of the plan's `place_groups`, the numbers of its squads
    judges            number and weight of each judge; weight 0 is shown, not counted
    attempts          squad, event, measure, number, run_off, and what was recorded: items, deductions (count; items
                      of a checklist are 1 or 0), amount (number), seconds (null: did not finish), faults (time; what
                      was taken by presses and by hand stands beside it, and seconds is the one that counts),
                      contributing, members (share)
    sheets            squad, judge, event, measure, and marks; no marks while a sheet is due and not handed in
    absences          squad, event, excused
    results           what the bot computed from the above, stage by stage (see `Results`)

Exact numbers are strings in lowest terms: "81", "57/8". Decimals as recorded are strings too: "92.35". A packet may
come from anybody, so every number and every list is bounded before anything is computed with it.
"""

import json
import re
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, PlainSerializer, ValidationError

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.base import Record

VERSION = 1
LARGEST = 10_000_000
"""Bytes; a packet of a thousand squads is smaller."""
MOST_SQUADS = 2_000
MOST_JUDGES = 100
MOST_LINES = 100_000
"""Attempts, sheets, or results of one stage."""
_EXACT = re.compile(r"-?(0|[1-9][0-9]{0,3999})(/[1-9][0-9]{0,3999})?", re.ASCII)
_DECIMAL = re.compile(r"-?[0-9]{1,12}(\.[0-9]{1,12})?", re.ASCII)


def _fraction(value: object) -> Fraction:
    if isinstance(value, Fraction):
        return value
    if not isinstance(value, str) or not _EXACT.fullmatch(value):
        raise ValueError("an exact number is a string such as 57/8")
    found = Fraction(value)
    if str(found) != value:
        raise ValueError("an exact number stands in lowest terms, such as 57/8")
    return found


def _decimal(value: object) -> Decimal:
    if isinstance(value, Decimal):
        return value
    if not isinstance(value, str) or not _DECIMAL.fullmatch(value):
        raise ValueError("a decimal is a string such as 92.35, with at most 12 digits to either side")
    return Decimal(value)


def _plainly(value: Decimal) -> str:
    return format(value, "f")


Exact = Annotated[Fraction, BeforeValidator(_fraction), PlainSerializer(str, return_type=str)]
Recorded = Annotated[Decimal, BeforeValidator(_decimal), PlainSerializer(_plainly, return_type=str)]
Number = Annotated[int, Field(ge=1, le=100_000)]
Counted = Annotated[int, Field(ge=0, le=1_000_000)]
Key = Annotated[str, Field(max_length=100)]
"""Of an event, measure, item or criterion."""
Where = Annotated[str, Field(max_length=300)]


class JudgeLine(Record):
    """A judge by number."""

    number: Number
    weight: Recorded = Field(ge=0, le=5)


class AttemptLine(Record):
    """One attempt that stands, as it was recorded."""

    squad: Number
    event: Key
    measure: Key
    number: Counted
    run_off: bool = False
    items: dict[Key, Counted] = Field({}, max_length=100)
    deductions: Recorded = Decimal(0)
    amount: Recorded | None = None
    seconds: Recorded | None = None
    press_seconds: Recorded | None = None
    hand_seconds: Recorded | None = None
    faults: Counted = 0
    contributing: Counted | None = None
    members: Counted | None = None

    @property
    def where(self) -> str:
        """`squad/event.measure/number`, a run-off as `squad/event.measure/run-off number`."""
        return f"{self.squad}/{self.event}.{self.measure}/{'run-off ' if self.run_off else ''}{self.number}"


RECORDED: dict[str, tuple[str, ...]] = {
    "count": ("items", "deductions"),
    "number": ("amount",),
    "checklist": ("items",),
    "time": ("seconds", "press_seconds", "hand_seconds", "faults"),
    "share": ("contributing", "members"),
}
"""By kind of measure: what is recorded of an attempt at it. All other fields of its line are empty."""


class SheetLine(Record):
    """One judge's sheet for one squad; without marks it is due and not handed in."""

    squad: Number
    judge: Number
    event: Key
    measure: Key
    marks: Annotated[dict[Key, Counted], Field(max_length=100)] | None


class AbsenceLine(Record):
    """A squad that did not take part in an event."""

    squad: Number
    event: Key
    excused: bool


Stage = Annotated[dict[Where, Exact | None], Field(max_length=MOST_LINES)]
Squads = Annotated[tuple[Number, ...], Field(max_length=MOST_SQUADS)]


class Results(Record):
    """The computed stages in their order; each can be checked from those before it."""

    attempts: Stage
    """`squad/event.measure/number` to the attempt's value; null for a time that did not finish."""
    sheets: Annotated[dict[Where, Exact], Field(max_length=MOST_LINES)]
    """`squad/event.measure/judge` to the sheet's value."""
    judge_effects: Annotated[dict[Where, Exact], Field(max_length=MOST_LINES)]
    """`event.measure/judge` to what the judge gives above the average judge, where the panel rule is `adjusted`."""
    values: Stage
    """`squad/event.measure` to the squad's value; null when it did not finish or something is missing."""
    scaled: Stage
    """`squad/event.measure` to the value on the plan's scale, 0 to 1; above 1 only where the plan lets it."""
    events: Stage
    """`squad/event` to its points, 100 times the mean of its scaled values; null when excused or incomplete."""
    totals: Stage
    """`squad` to its total; null when something is missing."""
    ranks: Annotated[dict[Where, Number | None], Field(max_length=MOST_SQUADS)]
    """`squad` to its rank after tie-breaks and run-offs."""
    ties: Annotated[tuple[Squads, ...], Field(max_length=MOST_SQUADS)]
    """Squads that still share a rank."""
    placed: Squads
    """Squads that hold a place, best first."""
    straddle: Squads
    """Squads that tie for the last place."""
    missing: Annotated[tuple[Where, ...], Field(max_length=MOST_LINES)]
    """`squad/kind/event.measure/judge` for everything that is missing."""


class Packet(Record):
    """A results packet; see the head of this page."""

    format: Literal["tenbell-results"] = "tenbell-results"
    version: Literal[1] = 1
    plan: str
    plan_sha256: Annotated[str, Field(max_length=100)]
    formulas: Annotated[str, Field(max_length=100_000)] = ""
    squads: Squads
    groups: Annotated[tuple[Squads, ...], Field(max_length=25)] = ()
    judges: Annotated[tuple[JudgeLine, ...], Field(max_length=MOST_JUDGES)]
    attempts: Annotated[tuple[AttemptLine, ...], Field(max_length=MOST_LINES)]
    sheets: Annotated[tuple[SheetLine, ...], Field(max_length=MOST_LINES)]
    absences: Annotated[tuple[AbsenceLine, ...], Field(max_length=MOST_LINES)]
    results: Results


def packet_text(packet: Packet) -> str:
    """The packet as JSON text; the same packet gives the same text."""
    return packet.model_dump_json(indent=1) + "\n"


def read_packet(text: str | bytes) -> Packet:
    """The packet that a JSON text holds.

    Raises Refusal: `packet_large` (most), `packet_version` (version, known) for one of another format or a newer
    version, `packet_key_twice` (where), `packet_unreadable` (where, problem).
    """
    if len(text) > LARGEST:
        raise Refusal(Reason.PACKET_LARGE, most=LARGEST)
    try:
        json.loads(text, object_pairs_hook=_once, parse_int=_short)
        return Packet.model_validate_json(text, strict=True)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        where = ".".join(str(part) for part in first["loc"]) or "its beginning"
        if where in ("version", "format"):
            raise Refusal(Reason.PACKET_VERSION, version=str(first["input"])[:50], known=VERSION) from None
        raise Refusal(Reason.PACKET_UNREADABLE, where=where[:200], problem=first["msg"]) from None
    except RecursionError:
        raise Refusal(Reason.PACKET_UNREADABLE, where="its beginning", problem="it is nested too deeply") from None
    except ValueError as error:
        raise Refusal(Reason.PACKET_UNREADABLE, where="its beginning", problem=str(error)[:200]) from None


def _once(pairs: list[tuple[str, object]]) -> None:
    """Refuse an object in which one key stands twice: readers would differ on which of the two counts."""
    seen: set[str] = set()
    for key, _ in pairs:
        if key in seen:
            raise Refusal(Reason.PACKET_KEY_TWICE, where=key[:100])
        seen.add(key)


def _short(digits: str) -> int:
    if len(digits) > 20:
        raise ValueError("a whole number has more than 20 digits")
    return int(digits)
