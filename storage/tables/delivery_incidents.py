"""What keeps messages from getting through at an address: the coach is told of each cause once, until it is over."""

from datetime import datetime

from storage.tables.sql_session import Snapshot, Transaction, stamp


async def add(db: Transaction, tryout_id: int, address: str, cause: str, now: datetime) -> bool:
    """Note that something does not get through for a cause; whether that is new."""
    return bool(
        await db.run(
            "INSERT OR IGNORE INTO delivery_incident (tryout_id, address, cause, at) VALUES (?, ?, ?, ?)",
            tryout_id,
            address,
            cause,
            stamp(now),
        )
    )


async def since(db: Snapshot, tryout_id: int, address: str, cause: str) -> datetime | None:
    """Since when the coach knows of a cause of trouble at an address."""
    found = await db.value(
        "SELECT at FROM delivery_incident WHERE tryout_id = ? AND address = ? AND cause = ?", tryout_id, address, cause
    )
    return datetime.fromisoformat(found) if found else None


async def end(db: Transaction, tryout_id: int, address: str, *causes: str) -> None:
    """These causes are over: should they come back, the coach is told again."""
    marks = ", ".join("?" * len(causes))
    await db.run(
        f"DELETE FROM delivery_incident WHERE tryout_id = ? AND address = ? AND cause IN ({marks})",
        tryout_id,
        address,
        *causes,
    )


async def troubled(db: Snapshot) -> list[tuple[int, str]]:
    """The addresses, each with its try-out, at which something stands in the way."""
    rows = await db.rows("SELECT DISTINCT tryout_id, address FROM delivery_incident")
    return [(row["tryout_id"], row["address"]) for row in rows]


async def end_all(db: Transaction, tryout_id: int) -> None:
    """Whatever still does not get through is told again."""
    await db.run("DELETE FROM delivery_incident WHERE tryout_id = ?", tryout_id)
