"""What a squad still owes, what of it comes first, and who has to do it."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from storage.records.people import Student
from storage.records.plan import Plan
from storage.records.tryout import State


@dataclass(frozen=True)
class SquadFacts:
    """What is known of one squad. What is None does not concern this try-out."""

    smallest: int
    """Members it needs."""
    members: int
    readers: int = 0
    """Members with an account, who can open the brief."""
    opened: int | None = None
    """Of these, how many have opened it; None before it is out."""
    slots_left: int | None = None
    """Practice turns the squad may still book."""
    hand_ins: Mapping[str, int] = field(default_factory=dict)
    """Members who have handed in their part, by the name of the piece."""


Kind = Literal["members", "brief", "slot", "hand-in"]
IN_ORDER: tuple[Kind, ...] = ("members", "brief", "slot", "hand-in")
"""In this order a squad reads what it still owes, the most pressing first."""


@dataclass(frozen=True)
class Debt:
    """One thing a squad still owes; `kind` names its line in the words."""

    kind: Kind
    number: int
    """How many are missing."""
    piece: str = ""
    """The name of the piece, where parts of it are missing."""
    who: tuple[Student, ...] = ()
    """The members who have to do it, where it is for each to do."""


def work_is_owed(state: State) -> bool:
    """Whether parts of the hand-in and practice turns are owed: from the brief to the deadline."""
    return state == "window"


def owed(squad: SquadFacts) -> tuple[Debt, ...]:
    """Everything a squad still owes, the most pressing first; empty when it owes nothing."""
    debts = (
        Debt("members", squad.smallest - squad.members),
        Debt("brief", 0 if squad.opened is None else squad.readers - squad.opened),
        Debt("slot", squad.slots_left or 0),
        *(Debt("hand-in", squad.members - there, piece) for piece, there in squad.hand_ins.items()),
    )
    return tuple(sorted((debt for debt in debts if debt.number > 0), key=lambda debt: IN_ORDER.index(debt.kind)))


def who_owes(debt: Debt, members: Sequence[Student], parts: Mapping[str, Collection[int]]) -> tuple[Student, ...]:
    """The members who have to do it themselves; nobody where it is for the squad as a whole.

    `parts` says by piece which members have handed in. Without an account nobody can open the brief.
    """
    if debt.kind == "brief":
        return tuple(one for one in members if one.platform_id is not None and one.brief_opened_at is None)
    if debt.kind == "hand-in":
        return tuple(one for one in members if one.id not in parts[debt.piece])
    return ()


def squad_facts(plan: Plan, members: Sequence[Student], may_be_small: bool, brief_is_out: bool) -> SquadFacts:
    """The facts of a squad: its size, unless it may be small, and who has opened the brief."""
    readers = [one for one in members if one.platform_id is not None]
    return SquadFacts(
        smallest=1 if may_be_small else plan.squads.smallest,
        members=len(members),
        readers=len(readers),
        opened=sum(one.brief_opened_at is not None for one in readers) if brief_is_out else None,
    )
