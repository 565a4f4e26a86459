"""In which try-outs somebody judges, and which of them is meant in direct messages."""

from datetime import datetime

from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot, Transaction, stamp
from storage.tables.tryouts import read_tryouts


async def tryouts_judged_by(db: Snapshot, platform_id: int) -> list[Tryout]:
    """The running try-outs in which this account is a judge, oldest first: one on each of several class servers."""
    rows = await db.rows(
        "SELECT tryout.* FROM tryout JOIN judge ON judge.tryout_id = tryout.id "
        "WHERE platform_id = ? AND removed = 0 AND state <> 'archived' ORDER BY tryout.id",
        platform_id,
    )
    return read_tryouts(rows)


NAMES_TRYOUT = {
    "sheet_id": "SELECT judge.tryout_id FROM sheet JOIN judge ON judge.id = sheet.judge_id WHERE sheet.id = ?",
    "squad_id": "SELECT tryout_id FROM squad WHERE id = ?",
    "trial_id": "SELECT tryout_id FROM calibration WHERE id = ?",
    "tryout_id": "SELECT id FROM tryout WHERE id = ?",
}
"""What an id in a key says of the try-out that is meant, by the name of the handler's parameter."""


async def tryout_named(db: Snapshot, name: str, about: int) -> int | None:
    """The try-out to which an id of a key belongs; `name` is one of `NAMES_TRYOUT`."""
    found = await db.value(NAMES_TRYOUT[name], about)
    return None if found is None else int(found)


async def tryout_of_message(db: Snapshot, message_id: int) -> int | None:
    """The try-out to which a message of ours belongs: a living list, or one that was sent once."""
    found = await db.value(
        "SELECT tryout_id FROM live_message WHERE message_id = ?1 "
        "UNION SELECT tryout_id FROM outbox_message WHERE message_id = ?1",
        message_id,
    )
    return None if found is None else int(found)


async def tryout_chosen(db: Snapshot, platform_id: int) -> int | None:
    """The try-out that a judge of several chose last for the private messages."""
    found = await db.value(
        "SELECT tryout_id FROM judge WHERE platform_id = ? AND removed = 0 AND direct_chosen_at IS NOT NULL "
        "ORDER BY direct_chosen_at DESC LIMIT 1",
        platform_id,
    )
    return None if found is None else int(found)


async def choose_tryout(db: Transaction, judge_id: int, now: datetime) -> None:
    """From now on private messages are about this judge's try-out, unless they say otherwise."""
    await db.run("UPDATE judge SET direct_chosen_at = ? WHERE id = ?", stamp(now), judge_id)
