"""The log quotes nobody: hostile words through every action, form and command, whatever breaks on the way."""

import logging
from types import SimpleNamespace
from typing import Any

import discord
import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.registry import register_all
from bot.clock import by_the_loop
from bot.interactions import direct_messages, router
from bot.interactions.direct_messages import DirectMessageListener
from bot.log_setup import PlainFormatter
from storage.records.request import Request
from tests.actions.conftest import Begin, begin  # noqa: F401
from tests.actions.core.test_hostile_texts import HOSTILE, SECRET
from tests.interactions.test_deferred_answers import Wire, never, router_of

register_all()

TOKEN = "MTA1NjM0.GhOsTs.Zq7Zq7Zq7-not-a-token-of-anybody"
KINDS = ("press", "choice", "form", "command", "suggestion")


class Handler(logging.Handler):
    """Keeps the log as it is written by the program, with what libraries log along with it."""

    def __init__(self) -> None:
        super().__init__(logging.DEBUG)
        self.setFormatter(PlainFormatter("%(levelname)s %(name)s %(message)s"))
        self.text = ""

    def emit(self, record: logging.LogRecord) -> None:
        self.text += self.format(record) + "\n"


@pytest.fixture
def written() -> Any:
    """Everything that is logged meanwhile."""
    handler, root = Handler(), logging.getLogger()
    before = root.level
    root.addHandler(handler)
    root.setLevel(logging.DEBUG)
    yield handler
    root.removeHandler(handler)
    root.setLevel(before)


def wire(kind: str, action: str, now: Any) -> Any:
    """One interaction full of words that must not be written down."""
    made: Any = Wire(f"{action}:{SECRET}", now)
    made.user.display_name = HOSTILE
    if kind == "choice":
        made.data |= {"component_type": 3, "values": [SECRET, TOKEN]}
    if kind == "form":
        made.type = discord.InteractionType.modal_submit
        field = {"type": 18, "component": {"type": 4, "custom_id": "why", "value": f"{HOSTILE} {TOKEN}"}}
        made.data = {"custom_id": f"{action}:1", "components": [field]}
    return made


async def ask(asking: Any, kind: str, action: Any) -> Any:
    """Send one interaction through the router."""
    made = wire(kind, action, asking.now)
    under_test = router_of(asking.store, never)
    if kind == "command":
        await under_test.command(made, action, SECRET, typed=HOSTILE, squad=HOSTILE, reason=TOKEN)
    elif kind == "suggestion":
        await under_test.suggest(made, action, f"{SECRET} {TOKEN}")
    else:
        await under_test.pressed(made)
    return made


def breaking(_: Any, __: Any, request: Request) -> Any:
    """A mistake of ours, whose text quotes everything that came."""
    return Request.model_validate({"id": "no number", "at": HOSTILE, "who": TOKEN, "name": repr(request)})


@pytest.mark.parametrize("kind", KINDS)
async def test_nothing_that_people_send_is_logged_when_it_is_dealt_with(
    begin: Begin,  # noqa: F811
    written: Handler,
    kind: str,
) -> None:
    asking = await begin()
    for action in ACTIONS:
        await ask(asking, kind, action)
    assert SECRET not in written.text and "evil" not in written.text


@pytest.mark.parametrize("kind", KINDS)
async def test_nothing_is_logged_of_it_when_we_make_a_mistake(
    begin: Begin,  # noqa: F811
    written: Handler,
    monkeypatch: pytest.MonkeyPatch,
    kind: str,
) -> None:
    monkeypatch.setattr(router, "perform", breaking)
    asking = await begin()
    for action in ACTIONS:
        sent = (await ask(asking, kind, action)).sent
        assert kind == "suggestion" or len(sent) in (1, 2)
    assert "fault " in written.text
    assert SECRET not in written.text and "evil" not in written.text


async def test_nothing_is_logged_of_it_when_the_platform_refuses_the_answer(
    begin: Begin,  # noqa: F811
    written: Handler,
) -> None:
    asking = await begin()
    response: Any = SimpleNamespace(status=400, reason="Bad Request")
    for error in (discord.HTTPException(response, HOSTILE), ValueError(HOSTILE), OSError(HOSTILE)):

        async def refuse(*_: Any, error: Exception = error, **__: Any) -> None:
            raise error

        made = wire("press", "squad.mine", asking.now)
        made.send_message = refuse
        await router_of(asking.store, never).pressed(made)
    assert "could not answer" in written.text
    assert SECRET not in written.text and "evil" not in written.text


async def test_nothing_is_logged_of_what_a_judge_types(
    begin: Begin,  # noqa: F811
    written: Handler,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asking = await begin()
    async with asking.store.write() as db:
        await db.run("INSERT INTO judge (tryout_id, number, platform_id, name) VALUES (1, 1, 5, 'Ada')")
    under_test = router_of(asking.store, by_the_loop)
    sent: list[Any] = []

    async def send(**what: Any) -> None:
        sent.append(what)
        if len(sent) == 2:
            raise discord.HTTPException(SimpleNamespace(status=400, reason="no"), HOSTILE)

    for number, broken in enumerate((False, False, True)):
        if broken:
            monkeypatch.setattr(direct_messages, "perform", breaking)
        message: Any = SimpleNamespace(
            id=900 + number, guild=None, author=SimpleNamespace(id=5, bot=False, display_name=HOSTILE),
            content=f"{HOSTILE} {TOKEN}", channel=SimpleNamespace(id=77, send=send), created_at=asking.now,
        )  # fmt: skip
        await DirectMessageListener(under_test, asking.store).heard(message)
    assert len(sent) == 3
    assert "fault " in written.text
    assert SECRET not in written.text and "evil" not in written.text
