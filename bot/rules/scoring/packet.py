"""The results packet: everything needed to recompute the standings, with people replaced by numbers.

One JSON object. It names no student, judge or coach and holds no platform id, time, comment or reason; squads and
judges appear by number. What the coach wrote into the plan is in it word for word, because its fingerprint covers it.

    format, version   "tenbell-results", 1
    plan              the plan as a TOML file, in one string
    plan_sha256       SHA-256 of that string in UTF-8: the fingerprint that was posted with the brief
    squads            numbers of the squads that take part
    judges            number and weight of each judge; weight 0 is advisory
    attempts          squad, event, measure, number, run_off, and what was recorded: items, deductions (count; items
                      of a checklist are 1 or 0), amount (number), seconds (null: did not finish), faults (time),
                      contributing, members (share)
    sheets            squad, judge, event, measure, and marks; no marks while a sheet is due and not handed in
    absences          squad, event, excused
    results           what the bot computed from the above, stage by stage (see `Results`)

Exact numbers are strings: "81", "57/8". Decimals as recorded are strings too: "92.35".
"""

from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, PlainSerializer, ValidationError

from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from storage.records.base import Record

VERSION = 1
LARGEST = 10_000_000
"""Bytes; a packet of a thousand squads is smaller."""


def _fraction(value: object) -> Fraction:
    if isinstance(value, Fraction):
        return value
    if not isinstance(value, str) or len(value) > 10_000:
        raise ValueError("an exact number is a string such as 57/8")
    try:
        return Fraction(value)
    except ZeroDivisionError:
        raise ValueError("the number below the line is 0") from None


Exact = Annotated[Fraction, BeforeValidator(_fraction), PlainSerializer(str, return_type=str)]
Number = Annotated[int, Field(ge=1, le=100_000)]


class JudgeLine(Record):
    """A judge by number."""

    number: Number
    weight: Decimal = Field(ge=0, le=5)


class AttemptLine(Record):
    """One attempt that stands, as it was recorded."""

    squad: Number
    event: str
    measure: str
    number: int
    run_off: bool = False
    items: dict[str, int] = {}
    deductions: Decimal = Decimal(0)
    amount: Decimal | None = None
    seconds: Decimal | None = None
    faults: int = 0
    contributing: int | None = None
    members: int | None = None

    @property
    def where(self) -> str:
        """`squad/event.measure/number`, a run-off as `squad/event.measure/run-off number`."""
        return f"{self.squad}/{self.event}.{self.measure}/{'run-off ' if self.run_off else ''}{self.number}"


class SheetLine(Record):
    """One judge's sheet for one squad; without marks it is due and not handed in."""

    squad: Number
    judge: Number
    event: str
    measure: str
    marks: dict[str, int] | None


class AbsenceLine(Record):
    """A squad that did not take part in an event."""

    squad: Number
    event: str
    excused: bool


class Results(Record):
    """The computed stages in their order; each can be checked from those before it."""

    attempts: dict[str, Exact | None]
    """`squad/event.measure/number` to the attempt's value; null for a time that did not finish."""
    sheets: dict[str, Exact]
    """`squad/event.measure/judge` to the sheet's value."""
    judge_effects: dict[str, Exact]
    """`event.measure/judge` to what the judge gives above the average judge, where the panel rule is `adjusted`."""
    values: dict[str, Exact | None]
    """`squad/event.measure` to the squad's value; null when it did not finish or something is missing."""
    scaled: dict[str, Exact | None]
    """`squad/event.measure` to the value on the plan's scale: 0 to 1; beyond 1 above a maximum, and either way on
    the scale standard; 0 for a time that did not finish."""
    events: dict[str, Exact | None]
    """`squad/event` to its points, 100 times the mean of its scaled values; null when excused or incomplete."""
    totals: dict[str, Exact | None]
    """`squad` to its total; null when something is missing."""
    ranks: dict[str, int | None]
    """`squad` to its rank after tie-breaks and run-offs."""
    ties: tuple[tuple[int, ...], ...]
    """Squads that still share a rank."""
    placed: tuple[int, ...]
    """Squads that hold a place, best first."""
    straddle: tuple[int, ...]
    """Squads that tie for the last place."""
    missing: tuple[str, ...]
    """`squad/kind/event.measure/judge` for everything that is missing."""


class Packet(Record):
    """A results packet; see the head of this page."""

    format: Literal["tenbell-results"] = "tenbell-results"
    version: Literal[1] = 1
    plan: str
    plan_sha256: str
    squads: tuple[Number, ...]
    judges: tuple[JudgeLine, ...]
    attempts: tuple[AttemptLine, ...]
    sheets: tuple[SheetLine, ...]
    absences: tuple[AbsenceLine, ...]
    results: Results


def packet_text(packet: Packet) -> str:
    """The packet as JSON text; the same packet gives the same text."""
    return packet.model_dump_json(indent=1) + "\n"


def read_packet(text: str | bytes) -> Packet:
    """The packet that a JSON text holds.

    Raises Refusal: `packet_large` (most), `packet_version` (version, known) for one of another format or a newer
    version, `packet_unreadable` (where, problem).
    """
    if len(text) > LARGEST:
        raise Refusal(Reason.PACKET_LARGE, most=LARGEST)
    try:
        return Packet.model_validate_json(text)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        where = ".".join(str(part) for part in first["loc"]) or "its beginning"
        if where in ("version", "format"):
            raise Refusal(Reason.PACKET_VERSION, version=first["input"], known=VERSION) from None
        raise Refusal(Reason.PACKET_UNREADABLE, where=where, problem=first["msg"]) from None
