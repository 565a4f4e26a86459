"""What somebody is in a try-out: coach, judge, scorekeeper, typist, or in a squad and nothing else."""

from typing import Literal

from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import tryouts
from storage.tables.sql_session import Snapshot

Role = Literal["anyone", "judge", "scorekeeper", "typist", "recorder", "coach", "manager"]
"""Who may ask. A recorder, who types in run sheets, is a scorekeeper or a typist. A coach may do what these may; a
manager (of the class server) is a coach, even before there is a try-out."""


OFFICES: tuple[Role, ...] = ("judge", "scorekeeper", "typist")
"""Roles that are held as they are enrolled, without others in them."""


async def roles(db: Snapshot, tryout: Tryout | None, request: Request) -> set[Role]:
    """What a person is in this try-out, by the platform's word and our own lists; never by a role's name.

    Whoever takes part holds no other role, whichever came first and whoever gave it.
    """
    found = set() if tryout is None else await tryouts.roles_held(db, tryout.id, request.who)
    return {"anyone"} if "competitor" in found else _roles(found, request)


async def would_be(db: Snapshot, tryout: Tryout, request: Request, role: Role) -> bool:
    """Whether somebody lacks a role only because of a seat in a squad."""
    found = await tryouts.roles_held(db, tryout.id, request.who)
    return "competitor" in found and role in _roles(found, request)


def _roles(found: set[str], request: Request) -> set[Role]:
    held: set[Role] = {"anyone"}
    if request.manages_server:
        held |= {"manager", "coach", "scorekeeper", "typist", "recorder"}
    if "coach" in found:
        held |= {"coach", "scorekeeper", "typist"}
    held |= {role for role in OFFICES if role in found}
    if held & {"scorekeeper", "typist"}:
        held.add("recorder")
    return held
