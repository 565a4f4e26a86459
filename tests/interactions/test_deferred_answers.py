"""Nobody is left without a sign beyond three seconds: who waits for the database is told so, and then answered."""

import asyncio
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import discord
import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.clock import Later
from bot.interactions.router import InteractionRouter
from tests.actions.conftest import COACH, Begin, begin  # noqa: F401

MUCH_TOO_LONG_S = 20.0
"""After so long the check has failed; it takes a moment else, however busy the machine is."""
BUTTON = discord.ComponentType.button.value


class Wire:
    """What the chat library gives us of one press, and what goes back through it, in order."""

    def __init__(self, key: str, now: Any, **data: Any) -> None:
        self.sent: list[tuple[str, Any]] = []
        self.done = False
        self.told = asyncio.Event()
        self.token = "a-token"
        self.id, self.created_at, self.guild_id, self.channel_id, self.application_id = 1, now, 7, 50, 9
        self.type, self.guild, self.message = discord.InteractionType.component, None, None
        self.user = SimpleNamespace(id=5, display_name="Ida")
        self.permissions = discord.Permissions.none()
        self.data = {"custom_id": key, "component_type": BUTTON, **data}
        self.response = self

    def is_done(self) -> bool:
        return self.done

    async def defer(self, **_: Any) -> None:
        self._note("wait", None)

    async def send_message(self, content: str = "", **more: Any) -> None:
        self._note("message", more.get("content", content))

    async def send_modal(self, modal: discord.ui.Modal) -> None:
        self._note("form", modal.title)

    async def edit_original_response(self, **more: Any) -> None:
        self.sent.append(("edit", more))

    def _note(self, kind: str, what: Any) -> None:
        assert not self.done
        self.done = True
        self.sent.append((kind, what))
        self.told.set()


async def told(wire: Wire, working: "asyncio.Task[None]") -> None:
    """Wait until something has been said; what fails before that comes out here."""
    waiting = asyncio.ensure_future(wire.told.wait())
    await asyncio.wait((waiting, working), timeout=MUCH_TOO_LONG_S, return_when=asyncio.FIRST_COMPLETED)
    waiting.cancel()
    assert wire.told.is_set() or working.done(), "nothing was said"
    if working.done():
        working.result()


def at_once(_: float, call: Callable[[], None]) -> Callable[[], None]:
    """The patience is over as soon as anything has to be waited for."""
    return asyncio.get_running_loop().call_soon(call).cancel


def never(_: float, call: Callable[[], None]) -> Callable[[], None]:
    return lambda: None


def router_of(store: Any, later: Later, *, opened: bool = True) -> InteractionRouter:
    router = InteractionRouter(store)
    if opened:
        router.in_flight.open()
    router.later = later
    return router


async def test_while_the_database_is_busy_a_form_that_was_sent_is_told_to_wait_and_then_answered(
    begin: Begin,  # noqa: F811
) -> None:
    asking = await begin()
    wire: Any = Wire("squad.looking", asking.now)
    wire.type = discord.InteractionType.modal_submit
    wire.data = {"custom_id": "squad.looking:entered", "components": []}
    async with asking.store.write():
        working = asyncio.create_task(router_of(asking.store, at_once).pressed(wire))
        await told(wire, working)
        assert wire.sent == [("wait", None)]
        assert not working.done()
    await working
    assert [kind for kind, _ in wire.sent] == ["wait", "edit"]


async def test_who_cannot_be_told_to_wait_is_answered_all_the_same(
    begin: Begin,  # noqa: F811
    caplog: pytest.LogCaptureFixture,
) -> None:
    """A refusal in between, such as of a proxy, in which the chat library finds no number of seconds to wait for."""
    asking = await begin()
    wire: Any = Wire("squad.looking", asking.now)
    wire.type = discord.InteractionType.modal_submit
    wire.data = {"custom_id": "squad.looking:entered", "components": []}
    tried = asyncio.Event()

    async def defer(**_: Any) -> None:
        tried.set()
        raise TypeError

    wire.defer = defer
    async with asking.store.write():
        working = asyncio.create_task(router_of(asking.store, at_once).pressed(wire))
        await tried.wait()
    await working
    assert [kind for kind, _ in wire.sent] == ["message"]
    assert "while asking to wait: TypeError" in caplog.text


@pytest.mark.parametrize("kind", ["button", "select"])
async def test_a_form_that_comes_too_late_is_a_press_away(begin: Begin, kind: str) -> None:  # noqa: F811
    asking = await begin()
    wire: Any = Wire("squad.start", asking.now, **({} if kind == "button" else {"component_type": 3, "values": ["1"]}))
    router = router_of(asking.store, at_once, opened=False)
    working = asyncio.create_task(router.pressed(wire))
    await told(wire, working)
    router.in_flight.open()
    await working
    assert [one for one, _ in wire.sent] == ["wait", "edit"]
    said = wire.sent[1][1]
    assert "form could not open" in said["content"]
    rows = said["view"].to_components() if said.get("view") else []
    keys = [part["custom_id"] for row in rows for part in row["components"]]
    assert keys == (["squad.start"] if kind == "button" else [])


async def test_who_is_answered_in_time_is_not_told_to_wait(begin: Begin) -> None:  # noqa: F811
    asking = await begin()
    wire: Any = Wire("squad.start", asking.now)
    await router_of(asking.store, never).pressed(wire)
    assert [kind for kind, _ in wire.sent] == ["form"]


async def test_who_comes_before_the_doors_are_open_is_told_to_wait_once_also_where_the_work_itself_takes_long(
    begin: Begin,  # noqa: F811
) -> None:
    asking = await begin("settled")
    (slow, *_) = sorted(key for key, action in ACTIONS.items() if action.slow and action.role == "coach")
    wire: Any = Wire(slow, asking.now)
    wire.user = SimpleNamespace(id=COACH, display_name="Coach")
    router = router_of(asking.store, at_once, opened=False)
    working = asyncio.create_task(router.pressed(wire))
    await told(wire, working)
    router.in_flight.open()
    await working
    assert [one for one, _ in wire.sent] == ["wait", "edit"]
    assert "went wrong" not in wire.sent[1][1]["content"]


async def test_what_was_written_is_given_back_when_nothing_can_be_saved(begin: Begin) -> None:  # noqa: F811
    asking = await begin("window")
    async with asking.store.write() as db:
        await db.run("ALTER TABLE rules_question RENAME TO gone")
    wire: Any = Wire("rules.asked", asking.now)
    wire.type = discord.InteractionType.modal_submit
    typed = {"type": 4, "custom_id": "question", "value": "May the robot carry two socks?"}
    wire.data = {"custom_id": "rules.asked", "components": [{"type": 18, "component": typed}]}
    async with asking.store.write() as db:
        await db.run("ALTER TABLE student RENAME TO nobody")
    await router_of(asking.store, never).pressed(wire)
    ((_, said),) = wire.sent
    assert "nothing was changed" in said and "> May the robot carry two socks?" in said
