"""The trail: what was done, when, by whom, each entry chained to the one before."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from bot.rules.chain import content, link
from storage.records.tryout import TrailEntry
from storage.tables import trail
from storage.tables.session import Transaction


async def note(
    db: Transaction, tryout_id: int | None, at: datetime, actor: str, action: str, details: Mapping[str, Any]
) -> None:
    """Append one entry. `details` holds ids and numbers only: a name could not be forgotten later."""
    entry = TrailEntry(
        seq=0,
        tryout_id=tryout_id,
        at=at,
        actor=actor,
        action=action,
        details=dict(details),
        previous=await trail.last_digest(db),
        digest="",
    )
    await trail.add_entry(db, entry.model_copy(update={"digest": link(entry.previous, content(entry))}))
