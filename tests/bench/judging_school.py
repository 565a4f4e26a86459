"""A class server whose judges have agreed and have their sheets, and an outbox that keeps the delivery worker busy."""

from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

from bot.actions.core.dispatch import ACTIONS, perform
from bot.actions.core.registry import register_all
from bot.actions.judging.open_judging import open_judging
from bot.rules.squads.join_and_link_codes import join_code
from bot.rules.squads.names import name_keys
from bot.words.core.action_keys import ActionKey
from deploy.rehearsal.server.class_server import ClassServer
from storage.records.message import Message
from storage.records.request import Person, Request
from storage.store import Store
from storage.tables import outbox, squads, tryouts
from tests.bench.school import SECTIONS, class_server, names, open_signup

SQUADS = 14
MESSAGES = 120
"""To one channel that takes 20 a second: more than the judges need to hand in all their sheets."""


@asynccontextmanager
async def judging_school(database: Path, judges: int) -> AsyncIterator[ClassServer]:
    """The class server, running, with its database: judging is open, and outbox messages wait for the bot to start.

    `judges` is how many there are, whose names are those of `judge_names`.
    """
    register_all()
    async with class_server() as server:
        for name in judge_names(judges):
            server.world.add_person(name)
        await open_signup(server, database)
        async with Store.open(database) as store:
            await _judging(server, store, judge_names(judges))
        yield server


def judge_names(judges: int) -> tuple[str, ...]:
    """What so many judges are called."""
    return tuple(f"Judge {number:02}" for number in range(1, judges + 1))


async def messages_left(database: Path) -> int:
    """How many outbox messages are still to be delivered."""
    async with Store.open(database, readers=1) as store, store.read() as db:
        return int(await db.value("SELECT count(*) FROM outbox_message WHERE state IN ('queued', 'claimed')"))


async def _judging(server: ClassServer, store: Store, judges: Sequence[str]) -> None:
    now = datetime.now(UTC)
    async with store.write() as db:
        tryout = await tryouts.running(db, server.world.guild_id)
        assert tryout is not None
        for number, name in enumerate(names(SQUADS)):
            section = SECTIONS[number % len(SECTIONS)]
            await squads.add_squad(db, tryout.id, name, name_keys(name), section, join_code(number), now)
    ids = count(1000)
    people = [server.world.person(name) for name in judges]

    async def ask(action: str, who: int, **more: Any) -> None:
        request = Request(id=next(ids), at=now, who=who, server_id=server.world.guild_id, **{"name": "", **more})
        await perform(store, ACTIONS[ActionKey(action)], request)

    picked = tuple(Person(id=person.id, name=person.name) for person in people)
    await ask(
        "judges.add",
        server.world.owner_id,
        manages_server=True,
        people=picked,
        values=tuple(str(person.id) for person in people),
    )
    for person in people:
        await ask("sheets.start", person.id, name=person.name)
    async with store.write() as db:
        await tryouts.set_state(db, tryout.id, "judging")
        await open_judging(db, tryout.model_copy(update={"state": "judging"}), now, {})
        for number in range(MESSAGES):
            at = now + timedelta(microseconds=number)
            await outbox.enqueue(db, tryout.id, "news", Message(text=f"News item {number}."), at)
