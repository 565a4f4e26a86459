"""A new squad, whoever founds it: its name, its number, its join code, its place on the board."""

import hashlib

from bot.actions.core.changed_meanwhile import Noted
from bot.rules.squads.join_and_link_codes import TRIES, join_code
from bot.rules.squads.names import check_squad_name, name_keys
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot, Transaction


def renames(squad: Squad) -> Noted:
    """How another name for a squad stands in the audit log."""
    return Noted(("squad.rename", "correction.undone"), {"squad": squad.id})


async def free_name(db: Snapshot, tryout: Tryout, typed: str, squad: Squad | None = None) -> str:
    """What was typed as a name for a new squad, or for one that has another name, tidied.

    Raises:
        Refusal: it cannot be a name, or a squad has one that looks like it (`check_squad_name`).
    """
    # What cannot be a name, because it is too long, say, is refused before its keys are worked out.
    name = check_squad_name(typed, ())
    return check_squad_name(name, await squads.namesakes(db, tryout.id, name_keys(name), squad.id if squad else None))


async def add_squad(db: Transaction, tryout: Tryout, request: Request, name: str, section: str) -> Squad:
    """Enter a squad of that (checked) name, without members yet.

    Raises:
        Conflict: the name, or one that looks like it, is taken.
    """
    code = await new_code(db, tryout, request)
    squad_id = await squads.add_squad(db, tryout.id, name, name_keys(name), section, code, request.at)
    squad = await squads.squad(db, squad_id)
    assert squad is not None
    return squad


async def new_code(db: Snapshot, tryout: Tryout, request: Request) -> str:
    """A join code nobody can guess from what they see, and nobody else has."""
    for again in range(TRIES):
        digest = hashlib.sha256(f"{request.id}/{again}".encode()).digest()
        code = join_code(int.from_bytes(digest))
        if await squads.by_code(db, tryout.id, code) is None:
            return code
    raise RuntimeError("no free join code")
