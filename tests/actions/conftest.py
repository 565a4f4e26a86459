"""A real database with a try-out in it, and people who ask the actions for things."""

import json
from collections.abc import AsyncIterator, Awaitable, Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from bot.actions.core.arguments import read
from bot.actions.core.dispatch import ACTIONS, perform
from bot.actions.core.registry import register_all
from bot.rules.plan.read_plan import short_fingerprint
from bot.words.core.custom_ids import split
from storage.records.message import Answer, Button, Form, Message, Open, Select
from storage.records.plan import Calendar, Event, Plan
from storage.records.plan_measures import Count, Criterion, Item, Rubric, Share, Time
from storage.records.request import Request
from storage.records.tryout import ROOM_KINDS, State, Tryout
from storage.store import Store
from storage.tables import helpers, tryouts
from tests.databases import new_store

# Before any file of checks is read: some make one check for each action there is.
register_all()

SERVER = 7
COACH = 100
START = datetime(2027, 1, 4, 15, 0, tzinfo=UTC)


def small_plan(**changes: Any) -> Plan:
    """Three events as in the built-in plan, with short texts."""
    levels = ("not seen", "seen once", "seen often", "seen always")
    values: dict[str, Any] = {
        "name": "Quillmere robot club try-out",
        "zone": "America/New_York",
        "sections": ("7-A", "7-B"),
        "brief": "Build a robot that brings socks to the basket.",
        "calendar": Calendar(brief=datetime(2027, 1, 11, 15, 30)),  # noqa: DTZ001 - local by meaning
        "events": (
            Event(
                key="run",
                name="Sock run",
                weight=Decimal(40),
                measures=(Count(key="socks", name="Socks", items=(Item(key="sock", name="Sock"),), scale="best"),),
            ),
            Event(
                key="bunting",
                name="Bunting",
                weight=Decimal(30),
                measures=(
                    Rubric(
                        key="bunting",
                        name="Bunting",
                        criteria=(
                            Criterion(key="reasons", name="Written reasons", levels=levels, weight=Decimal(2)),
                            Criterion(key="theme", name="Fits the theme", levels=levels),
                        ),
                    ),
                    Share(key="members", name="Members who contributed"),
                ),
            ),
            Event(
                key="chain",
                name="Paper chain",
                weight=Decimal(30),
                surprise=True,
                cautions=("Clear, dry floor; no jumping.",),
                measures=(
                    Time(key="time", name="Time", limit=Decimal(480)),
                    Rubric(
                        key="team",
                        name="Teamwork",
                        criteria=(Criterion(key="talk", name="Communication", levels=levels),),
                    ),
                ),
            ),
        ),
        "tie_breaks": ("run", "bunting"),
    }
    return Plan(**(values | changes))


def check_keys(answer: Answer) -> None:
    """Whatever can be pressed, picked or sent in an answer carries what its handler takes."""
    if isinstance(answer, Open):
        keys = [answer.form.key]
    else:
        rows = answer.message.rows
        buttons = [one for row in rows if isinstance(row, tuple) for one in row]
        keys = [one.key for one in buttons if not one.disabled]
        keys += [row.key for row in rows if not isinstance(row, tuple)]
    for made in keys:
        action, args = split(made)
        assert action is not None, made
        known = ACTIONS[action]
        takes = known.arguments[known.run]
        read(replace(takes, picked=None), args, ())
        assert takes.anything or not args, made


@dataclass
class Asking:
    """Asks the actions, as the router would."""

    store: Store
    now: datetime = START
    last_id: int = 1000
    answers: list[Answer] = field(default_factory=list)

    async def ask(self, key: str, who: int = COACH, **more: Any) -> Answer:
        """Press a button, choose or fill a form; `key` is the whole key of the button or form."""
        action, args = split(key)
        assert action is not None, key
        self.last_id += 1
        self.now += timedelta(seconds=1)
        values: dict[str, Any] = {
            "id": self.last_id,
            "at": self.now,
            "who": who,
            "name": f"Person {who}",
            "server_id": SERVER,
            "manages_server": who == COACH,
            "args": args,
        }
        answer = await perform(self.store, ACTIONS[action], Request(**(values | more)))
        self.answers.append(answer)
        check_keys(answer)
        return answer

    async def message(self, key: str, who: int = COACH, **more: Any) -> Message:
        """The message that comes back."""
        answer = await self.ask(key, who, **more)
        assert not isinstance(answer, Open), answer
        return answer.message

    async def form(self, key: str, who: int = COACH, **more: Any) -> Form:
        """The form that opens."""
        answer = await self.ask(key, who, **more)
        assert isinstance(answer, Open), answer
        return answer.form

    async def filled(self, opens: str, who: int = COACH, *, fields: dict[str, str], **more: Any) -> Message:
        """Open a form and send it; what is answered, also where it does not open."""
        answer = await self.ask(opens, who, **more)
        if not isinstance(answer, Open):
            return answer.message
        return await self.message(answer.form.key, who, fields=fields, **more)

    async def yes(self, asked: str, label: str, who: int = COACH, **more: Any) -> Message:
        """Ask, and press the button with this label under the question that comes back; what is answered then."""
        return await self.message(button(await self.message(asked, who, **more), label).key, who, **more)

    async def confirm(self, action: str) -> Answer:
        """Press the button that says yes to the plan as it is now, such as `signup.open`."""
        return await self.ask(f"{action}:{short_fingerprint((await self.tryout()).plan)}")

    async def tryout(self) -> Tryout:
        """The running try-out as it is now."""
        async with self.store.read() as db:
            found = await tryouts.running(db, SERVER)
        assert found is not None
        return found

    async def messages_to(self, to: str) -> list[str]:
        """The texts queued for an address, oldest first."""
        async with self.store.read() as db:
            rows = await db.rows(
                """SELECT json_extract(message_json, '$.text') FROM outbox_message WHERE address = ? ORDER BY id""", to
            )
        return [row[0] for row in rows]

    async def pings_to(self, to: str) -> list[int]:
        """Whom the newest message queued for an address rings."""
        async with self.store.read() as db:
            (newest, *_) = await db.rows(
                "SELECT json_extract(message_json, '$.ping') FROM outbox_message WHERE address = ? ORDER BY id DESC", to
            )
        return list(json.loads(newest[0]))


def button(message: Message, label: str) -> Button:
    """The button with a label."""
    found = [part for row in message.rows if isinstance(row, tuple) for part in row if part.label == label]
    assert len(found) == 1, (label, message)
    return found[0]


def select(message: Message, prompt: str) -> Select:
    """The select with a prompt."""
    found = [row for row in message.rows if isinstance(row, Select) and row.prompt == prompt]
    assert len(found) == 1, (prompt, message)
    return found[0]


Begin = Callable[..., Awaitable[Asking]]


@pytest.fixture
async def begin(tmp_path: Path) -> AsyncIterator[Begin]:
    """A function that opens a database with one try-out in a state, rooms chosen, and returns who asks."""
    async with new_store(tmp_path / "tenbell.db") as store:

        async def start(state: State = "signup", **changes: Any) -> Asking:
            async with store.write() as db:
                tryout_id = await tryouts.create(db, SERVER, small_plan(**changes), START)
                for number, kind in enumerate(ROOM_KINDS):
                    await tryouts.set_room(db, tryout_id, kind, 50 + number)
                await tryouts.set_state(db, tryout_id, state)
                await helpers.add_officer(db, tryout_id, COACH, "Coach", "coach")
            return Asking(store)

        yield start


@pytest.fixture
async def nobody(tmp_path: Path) -> AsyncIterator[Asking]:
    """Someone who asks on a class server where no try-out runs."""
    async with new_store(tmp_path / "tenbell.db") as store:
        yield Asking(store)
