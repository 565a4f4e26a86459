"""Only what judges write in direct messages is read; it is answered once, there."""

import asyncio
from types import SimpleNamespace
from typing import Any

import pytest

import bot.actions.judging.typed_marks  # noqa: F401
from bot.interactions.direct_messages import DirectMessageListener
from bot.interactions.graceful_shutdown import drain
from bot.interactions.router import InteractionRouter
from tests.actions.conftest import Begin, begin  # noqa: F401
from tests.actions.judging_cast import ADA, Cast, cast


class Room:
    """A channel that keeps what is sent to it."""

    id = 900

    def __init__(self) -> None:
        self.sent: list[dict[str, Any]] = []

    async def send(self, **what: Any) -> None:
        self.sent.append(what)


async def write(
    found: Cast,
    text: str,
    who: int = ADA,
    guild: object = None,
    program: bool = False,
    router: InteractionRouter | None = None,
) -> Room:
    """Someone writes something; what comes back."""
    room = Room()
    router = router or InteractionRouter(found.asking.store)
    router.in_flight.open()
    found.asking.last_id += 1
    author = SimpleNamespace(id=who, bot=program, display_name=f"Person {who}")
    message: Any = SimpleNamespace(
        id=found.asking.last_id, guild=guild, author=author, content=text, channel=room, created_at=found.asking.now
    )
    try:
        await DirectMessageListener(router, found.asking.store).heard(message)
        assert router.in_flight.count == 0
    except asyncio.CancelledError:
        pass
    return room


@pytest.fixture
async def judged(begin: Begin) -> Cast:  # noqa: F811
    found = await cast(begin)
    await found.open()
    return found


async def test_a_judge_is_answered_in_the_direct_messages_under_a_nonce_of_the_message(judged: Cast) -> None:
    room = await write(judged, "3")
    assert "Written reasons: **3** of 4" in room.sent[0]["content"]
    assert room.sent[0]["nonce"] == judged.asking.last_id
    assert (await judged.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 3}


async def test_nobody_else_is_answered_and_no_other_room_is_read(judged: Cast) -> None:
    assert (await write(judged, "3", who=999)).sent == []
    assert (await write(judged, "3", guild=object())).sent == []
    assert (await write(judged, "3", program=True)).sent == []
    assert (await write(judged, "")).sent == []
    assert (await judged.sheet(ADA, "Crooked Spoons")).marks == {}


async def test_a_mistake_of_ours_is_told_once_with_a_code(judged: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(text: str) -> None:
        raise KeyError(text)

    monkeypatch.setattr("bot.rules.judging.typed_marks.read_typed", broken)
    room = await write(judged, "3")
    assert "nothing was changed" in room.sent[0]["content"]


async def test_when_nothing_can_be_saved_the_judge_is_told_so(judged: Cast) -> None:
    async with judged.asking.store.write() as db:
        await db.run("ALTER TABLE typed_sheet RENAME TO gone")
    room = await write(judged, "3")
    assert [sent["content"][:23] for sent in room.sent] == ["I cannot save anything "]


async def test_who_is_cut_short_is_not_told_that_nothing_was_saved(
    judged: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The change may be on the disk by the time at which we give up waiting for it."""
    monkeypatch.setattr("bot.interactions.graceful_shutdown.FINISH_S", 0.0)
    router = InteractionRouter(judged.asking.store)
    async with judged.asking.store.write():
        writing = asyncio.create_task(write(judged, "3", router=router))
        while not router.in_flight.count:  # noqa: ASYNC110 - nobody tells
            await asyncio.sleep(0)
        await drain(router.in_flight)
    room = await writing
    assert [sent["content"].partition(". ")[2] for sent in room.sent] == [
        "Please wait a minute, look whether it was done, and if it was not, try once more."
    ]
