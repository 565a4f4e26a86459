"""Who can read a kind of thing: worked out from the rooms it is posted in and from the roles that may ask for it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

Reader = Literal["you", "squad", "panel", "scorekeepers", "coaches", "everyone"]
"""Whoever reads the sentence; the squad it is about; the judges of that squad; …; everybody on the class server."""
Room = Literal["answer", "squad", "office", "sign-up"]
"""Where something is shown: the private answer to a press, a squad's room, the coaches' channel, the open one."""
Role = Literal["member", "judge", "scorekeeper", "coach"]
"""Who may ask to be shown it: members for their own squad, judges for the squads they mark."""
Kind = Literal[
    "answer",
    "squad-room",
    "result",
    "part",
    "question",
    "absence",
    "late-part",
    "comment",
    "standings",
    "plan",
    "board",
    "yes-and-no",
    "waiting",
    "wish",
    "protest",
    "incident",
    "leaver",
]

IN_ROOM: Mapping[Room, frozenset[Reader]] = {
    "answer": frozenset({"you"}),
    "squad": frozenset({"squad", "coaches"}),
    "office": frozenset({"coaches"}),
    "sign-up": frozenset({"everyone"}),
}
BY_ROLE: Mapping[Role, frozenset[Reader]] = {
    "member": frozenset({"squad"}),
    "judge": frozenset({"panel"}),
    "scorekeeper": frozenset({"scorekeepers", "coaches"}),
    "coach": frozenset({"coaches"}),
}
"""A coach may do what a scorekeeper may."""


@dataclass(frozen=True)
class Shown:
    """Where a kind of thing is shown, and to which roles when they ask."""

    rooms: frozenset[Room] = frozenset()
    roles: frozenset[Role] = frozenset()


SHOWN: Mapping[Kind, Shown] = {
    "answer": Shown(rooms=frozenset({"answer"})),
    "squad-room": Shown(rooms=frozenset({"squad"})),
    "result": Shown(rooms=frozenset({"squad"}), roles=frozenset({"coach"})),
    "part": Shown(roles=frozenset({"member", "judge", "coach"})),
    "question": Shown(rooms=frozenset({"office"}), roles=frozenset({"coach"})),
    "absence": Shown(roles=frozenset({"scorekeeper"})),
    "late-part": Shown(roles=frozenset({"coach"})),
    "comment": Shown(roles=frozenset({"coach"})),
    "standings": Shown(roles=frozenset({"coach"})),
    "plan": Shown(roles=frozenset({"coach"})),
    "board": Shown(rooms=frozenset({"sign-up"})),
    "yes-and-no": Shown(roles=frozenset({"coach"})),
    "protest": Shown(roles=frozenset({"coach"})),
    "incident": Shown(roles=frozenset({"coach"})),
    "leaver": Shown(rooms=frozenset({"office"})),
    "wish": Shown(rooms=frozenset({"answer"}), roles=frozenset({"coach"})),
    "waiting": Shown(rooms=frozenset({"office"}), roles=frozenset({"coach"})),
}
"""A question as it was asked, with who asked it; why a squad was absent; why a part came late; a judge's comment as
it was written; the standings before anything is announced; the plan with its surprises; the board of squads;
the yes/no columns of the class list; what somebody typed who is not on it;
whom a student would like to be with, or rather not; why somebody leaves for good."""


def readers(kind: Kind) -> tuple[Reader, ...]:
    """Everybody who can read it, always in the same order; `everyone` alone where that is so."""
    shown = SHOWN[kind]
    found: set[Reader] = set()
    for room in shown.rooms:
        found |= IN_ROOM[room]
    for role in shown.roles:
        found |= BY_ROLE[role]
    if "everyone" in found:
        return ("everyone",)
    return tuple(one for one in get_args(Reader) if one in found)
