"""Messages that were sent to an address, read again."""

from collections.abc import Sequence
from datetime import datetime

from storage.tables.privacy import ERASED
from storage.tables.sql_session import Snapshot


async def texts_to(db: Snapshot, tryout_id: int, addresses: Sequence[str]) -> list[tuple[datetime, str]]:
    """Instant and text of every message to these addresses, oldest first; erased ones are left out."""
    places = ", ".join("?" * len(addresses))
    rows = await db.rows(
        "SELECT queued_at, json_extract(message_json, '$.text') AS text FROM outbox_message "
        f"WHERE tryout_id = ? AND address IN ({places}) ORDER BY queued_at, id",
        tryout_id,
        *addresses,
    )
    return [(datetime.fromisoformat(row["queued_at"]), row["text"]) for row in rows if row["text"] != ERASED]
