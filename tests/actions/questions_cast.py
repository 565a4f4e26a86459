"""What the checks of questions about the rules share: two squads that ask, and a coach who answers."""

from typing import Any

from bot.actions.core.live_messages import compose
from bot.actions.core.registry import register_all
from storage.records.message import Message
from storage.records.tryout import State
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import make_squad

register_all()

WHEELS = "May we swap wheels between attempts?"
AGAIN = "Are other wheels fine for the second go?"
YES = "Yes, between attempts.\nNot during one."


async def in_state(asking: Asking, state: State) -> None:
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = ?, brief_at = ?", state, asking.now.isoformat())


async def two_squads(begin: Begin, state: State = "window", **plan: Any) -> Asking:
    """The brief is out, unless sign-up runs; students 1 and 2 are Crooked Spoons, 11 and 12 are Muddy Teapots."""
    asking = await begin(**plan)
    await make_squad(asking, 1, 2, "Crooked Spoons")
    await make_squad(asking, 11, 2, "Muddy Teapots", "7-B")
    async with asking.store.write() as db:
        # What sign-up has said is of no interest here.
        await db.run("DELETE FROM outbox_message")
    if state != "signup":
        await in_state(asking, state)
    return asking


async def ask(asking: Asking, text: str = WHEELS, who: int = 1) -> Message:
    return await asking.message("rules.asked", who, fields={"question": text})


async def preview(asking: Asking, question: int = 1, answer: str = YES, text: str = WHEELS) -> Message:
    return await asking.filled(f"rules.answer:{question}", fields={"question": text, "answer": answer})


async def answered(asking: Asking, question: int = 1, answer: str = YES, text: str = WHEELS) -> Message:
    return await asking.message(button(await preview(asking, question, answer, text), "Publish").key)


async def card(asking: Asking, key: str) -> Message | None:
    async with asking.store.read() as db:
        return await compose(db, await asking.tryout(), key)


async def placed(asking: Asking) -> dict[str, tuple[str, int]]:
    async with asking.store.read() as db:
        rows = await db.rows("SELECT key, address, pinned FROM live_message WHERE key NOT GLOB 'roster/*'")
    return {row["key"]: (row["address"], row["pinned"]) for row in rows}


async def stored(asking: Asking, what: str) -> int:
    """How many rows of the whole file, except the audit log, hold a text."""
    async with asking.store.read() as db:
        tables = [row["name"] for row in await db.rows("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return sum([what in str(tuple(row)) for table in tables for row in await db.rows(f"SELECT * FROM {table}")])
