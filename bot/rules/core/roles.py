"""Which roles there are, who may do what another may, that a student holds no other; how long a manager is noted."""

from collections.abc import Collection
from datetime import timedelta
from typing import Literal

from bot.rules.core.refusal_reasons import Reason

Role = Literal["anyone", "judge", "scorekeeper", "typist", "recorder", "coach", "manager"]
"""Who may ask. A recorder, who types in run sheets, is a scorekeeper or a typist. A coach may do what these may; a
manager (of the class server) is a coach, even before there is a try-out."""
OFFICES: tuple[Role, ...] = ("judge", "scorekeeper", "typist")
"""Roles that are held as they are enrolled, without others in them."""
ONLY: dict[Role, Reason] = {
    "judge": Reason.ONLY_JUDGE,
    "scorekeeper": Reason.ONLY_SCOREKEEPER,
    "typist": Reason.ONLY_TYPIST,
    "recorder": Reason.ONLY_TYPIST,
    "coach": Reason.ONLY_COACH,
    "manager": Reason.ONLY_MANAGER,
}
"""Why somebody is refused who does not hold the role; `anyone` is held by all."""
MANAGES_NOTED_AGAIN = timedelta(days=1)
"""A student who is seen with the right to manage the class server is noted anew after this."""
MANAGES_REMEMBERED = timedelta(days=7)
"""How long such a note holds unless it is seen again."""


def roles_of(enrolled: Collection[str], manages_server: bool) -> set[Role]:
    """What somebody is in a try-out, by our own lists (`competitor` for a seat in a squad) and the platform's word.

    Whoever takes part holds no other role, whichever came first and whoever gave it.
    """
    return {"anyone"} if "competitor" in enrolled else _without_seat(enrolled, manages_server)


def would_hold(role: Role, enrolled: Collection[str], manages_server: bool) -> bool:
    """Whether somebody lacks a role only because of a seat in a squad."""
    return "competitor" in enrolled and role in _without_seat(enrolled, manages_server)


def why_refused(role: Role, *, competes: bool, found: bool) -> Reason:
    """Why somebody is refused who does not hold the role that is asked for.

    `competes` where only a seat in a squad is in the way; `found` where there is a try-out, or no class server to look
    at: whoever writes in a direct message and judges no more is told just that.
    """
    if competes:
        return Reason.COMPETES
    return ONLY[role] if found or role == "manager" else Reason.NO_TRYOUT


def _without_seat(enrolled: Collection[str], manages_server: bool) -> set[Role]:
    held: set[Role] = {"anyone"}
    if manages_server:
        held |= {"manager", "coach", "scorekeeper", "typist", "recorder"}
    if "coach" in enrolled:
        held |= {"coach", "scorekeeper", "typist"}
    held |= {role for role in OFFICES if role in enrolled}
    if held & {"scorekeeper", "typist"}:
        held.add("recorder")
    return held
