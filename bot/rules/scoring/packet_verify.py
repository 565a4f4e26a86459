"""Recompute a results packet from itself alone, stage by stage, and say where it differs."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from fractions import Fraction
from hashlib import sha256

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.plan_problems import BadPlan
from bot.rules.plan.read_plan import read_plan
from bot.rules.scoring.packet import AttemptLine, Packet, Results
from bot.rules.scoring.packet_belonging import check_belonging
from bot.rules.scoring.packet_build import results_of
from bot.rules.scoring.standings import standings
from storage.records.people import Judge, Squad
from storage.records.plan import Plan
from storage.records.score_sheets import Sheet
from storage.records.scores import Absence, Attempt, ScoreBook

STAGES = tuple(Results.model_fields)
"""The stages after the plan's fingerprint, in the order of the computation."""
NOWHEN = datetime(2000, 1, 1, tzinfo=UTC)
"""Nothing that counts depends on when it was recorded."""
NOTHING = ""
"""Stands for what is null or not there, on either side of a difference."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One number of the packet that does not come out as it says."""

    where: str
    claimed: str
    found: str


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of the computation: how many numbers were checked, and which differ."""

    name: str
    checked: int
    differences: tuple[Difference, ...]

    @property
    def right(self) -> bool:
        """Whether everything came out as the packet says."""
        return not self.differences


def verify(packet: Packet) -> tuple[Stage, ...]:
    """Check the plan's fingerprint and then every stage of the results, in order. Raises nothing.

    A packet whose inputs make no sense ends with a stage `recompute` that says why; one whose plan cannot be read, with
    a stage `plan`.
    """
    found = sha256(packet.plan.encode()).hexdigest()
    stages = [Stage("plan_sha256", 1, _compare({"plan": packet.plan_sha256}, {"plan": found}))]
    try:
        plan = read_plan(packet.plan)
    except BadPlan as bad:
        problem = bad.problems[0]
        where = ".".join(map(str, problem.path)) or "plan"
        return (*stages, Stage("plan", 1, (Difference(where, NOTHING, problem.kind),)))
    try:
        book = book_of(packet, plan)
        results = results_of(book, standings(book))
    except Refusal as refusal:
        details = ", ".join(f"{key} {value}" for key, value in refusal.fields.items())
        return (*stages, Stage("recompute", 1, (Difference(details, NOTHING, refusal.reason),)))
    for name in STAGES:
        claimed, computed = _entries(getattr(packet.results, name)), _entries(getattr(results, name))
        stages.append(Stage(name, len(claimed.keys() | computed.keys()), _compare(claimed, computed)))
    return tuple(stages)


def book_of(packet: Packet, plan: Plan) -> ScoreBook:
    """The score book of a packet: numbers stand for people, and ids are numbers.

    Raises Refusal: `packet_twice` (where) for an attempt, sheet or number that is there twice; `packet_foreign` (where)
    for one that belongs to no squad, judge, event, measure, item or criterion of this packet.
    """
    check_belonging(packet, plan)
    _check_once(f"squad {number}" for number in packet.squads)
    _check_once(f"place group of squad {number}" for group in packet.groups for number in group)
    _check_once(f"judge {line.number}" for line in packet.judges)
    _check_once(line.where for line in packet.attempts)
    _check_once(f"{line.squad}/{line.event}.{line.measure}/{line.judge}" for line in packet.sheets)
    _check_once(f"{line.squad}/{line.event}" for line in packet.absences)
    return ScoreBook(
        plan=plan,
        squads=tuple(_squad(number, _section(number, packet, plan)) for number in packet.squads),
        judges=tuple(
            Judge(
                id=line.number,
                tryout_id=0,
                number=line.number,
                platform_id=line.number,
                name=f"judge {line.number}",
                weight=line.weight,
            )
            for line in packet.judges
        ),
        attempts=tuple(_attempt(number, line) for number, line in enumerate(packet.attempts, start=1)),
        sheets=tuple(
            Sheet(
                id=number,
                judge_id=line.judge,
                squad_id=line.squad,
                event=line.event,
                measure=line.measure,
                state="open" if line.marks is None else "submitted",
                marks=line.marks or {},
            )
            for number, line in enumerate(packet.sheets, start=1)
        ),
        absences=tuple(
            Absence(squad_id=line.squad, event=line.event, excused=line.excused) for line in packet.absences
        ),
    )


def _check_once(places: Iterable[str]) -> None:
    seen: set[str] = set()
    for where in places:
        if where in seen:
            raise Refusal(Reason.PACKET_TWICE, where=where)
        seen.add(where)


def _section(number: int, packet: Packet, plan: Plan) -> str:
    """A section that competes where the squad does; which one it is of does not count otherwise."""
    for group, squads in zip(plan.place_groups, packet.groups, strict=False):
        if number in squads:
            return group.sections[0]
    return "" if plan.place_groups else plan.sections[0]


def _squad(number: int, section: str) -> Squad:
    return Squad(
        id=number,
        tryout_id=0,
        number=number,
        name=f"squad {number}",
        section=section,
        captain_id=None,
        join_code=str(number),
        created_at=NOWHEN,
    )


def _attempt(number: int, line: AttemptLine) -> Attempt:
    return Attempt(
        id=number,
        squad_id=line.squad,
        event=line.event,
        measure=line.measure,
        number=line.number,
        items=line.items,
        deductions=line.deductions,
        amount=line.amount,
        seconds=line.seconds,
        press_seconds=line.press_seconds,
        hand_seconds=line.hand_seconds,
        faults=line.faults,
        contributing=line.contributing,
        members=line.members,
        run_off=line.run_off,
        recorded_by=0,
        recorded_at=NOWHEN,
    )


def _entries(stage: Mapping[str, Fraction | int | None] | Sequence[object]) -> dict[str, str]:
    """A stage as texts by place; of a list, the entries by their position."""
    if isinstance(stage, Mapping):
        return {where: _text(value) for where, value in stage.items()}
    return {str(position): _text(value) for position, value in enumerate(stage, start=1)}


def _text(value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(map(str, value))
    return NOTHING if value is None else str(value)


def _compare(claimed: Mapping[str, str], found: Mapping[str, str]) -> tuple[Difference, ...]:
    return tuple(
        Difference(where, claimed.get(where, NOTHING), found.get(where, NOTHING))
        for where in dict.fromkeys((*found, *claimed))
        if claimed.get(where) != found.get(where)
    )
