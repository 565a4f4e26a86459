"""Live messages: composed when sent, edited in place, gently, and never doubled."""

import asyncio
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest

from bot.actions.core.live_messages import live_message
from bot.delivery.delivery_loop import DeliveryLoop
from bot.interactions.answers_first import InFlight
from storage.records.message import Attachment, Button, Message
from storage.records.tryout import Tryout
from storage.tables import tryouts
from storage.tables.sql_session import Snapshot
from tests.delivery.server_view import (
    EDITING,
    LOOKING,
    MINUTES,
    NEWS,
    OFFICE,
    PINNING,
    RESET,
    SENDING,
    SIGNUP,
    answer,
    once,
    refusal,
)
from tests.delivery.tryout_on_loopback import Town
from tests.rehearsal.wire import until

SECOND = timedelta(seconds=1)


class Board:
    """What the live message `board` shows in these checks, and how often it was asked."""

    def __init__(self) -> None:
        self.text: str | None = "one"
        self.more: dict[str, Any] = {}
        self.composed = 0
        self.meanwhile: Callable[[], object] | None = None
        """Called in the thread in which it is composed."""

    async def compose(self, db: Snapshot, tryout: Tryout, key: str) -> Message | None:
        self.composed += 1
        if self.meanwhile is not None:
            self.meanwhile()
        return None if self.text is None else Message(text=f"{self.text}", **self.more)


@pytest.fixture
def board(monkeypatch: pytest.MonkeyPatch) -> Board:
    monkeypatch.setattr("bot.actions.core.live_messages.COMPOSERS", {})
    made = Board()
    live_message("board")(made.compose)
    return made


async def change(place: Town, board: Board, text: str | None) -> None:
    board.text = text
    await place.touch("board/*")


async def test_a_card_is_posted_once_and_then_edited_in_place(place: Town, board: Board) -> None:
    await place.place("board/1", "signup")
    await place.deliver()
    (stands,) = place.wire.posts(SIGNUP)
    place.clock.move(3 * SECOND)
    await change(place, board, "two")
    await place.deliver()
    assert place.wire.posts(SIGNUP) == [stands] and stands.content == "two"
    assert (place.wire.requests[SENDING], place.wire.requests[EDITING]) == (1, 1)


async def test_nothing_is_sent_when_it_shows_the_same(place: Town, board: Board) -> None:
    await place.place("board/1", "signup")
    await place.deliver()
    place.clock.move(3 * SECOND)
    await place.touch("board/*")
    await place.deliver()
    assert place.wire.requests[EDITING] == 0
    assert (await place.live("board/1")).stale == 0


async def test_a_burst_of_changes_is_shown_at_once_and_then_together(place: Town, board: Board) -> None:
    await place.place("board/1", "signup")
    await place.deliver()
    place.clock.move(3 * SECOND)
    async with place.post() as opened:
        for number in range(20):
            await change(place, board, f"state {number}")
            if number == 0:
                await opened.quiet()
        await opened.quiet()
        assert place.wire.texts(SIGNUP) == ["state 0"]
        assert opened.next_wake() == place.clock.at + 2 * SECOND
        await place.settle(opened, 2 * SECOND)
    assert place.wire.texts(SIGNUP) == ["state 19"]
    assert place.wire.requests[EDITING] == 2


async def test_it_is_composed_while_the_platform_takes_an_answer_and_sent_as_it_is_after_that(
    place: Town, board: Board
) -> None:
    in_flight = InFlight()
    waiting = in_flight.answers_out, in_flight.answers_first
    async with DeliveryLoop(place.client, place.store, place.clock, waiting=waiting) as opened:
        place.store.on_commit(opened.wake)
        await opened.quiet()
        with in_flight.counted() as out:
            await place.place("board/1", "signup")
            quiet = asyncio.create_task(opened.quiet())
            for _ in range(50):
                await asyncio.sleep(0)
            assert board.composed == 0, "the answer has still to be found"
            out()
            await until(lambda: board.composed == 1)
            await change(place, board, "two")
            for _ in range(50):
                await asyncio.sleep(0)
            assert place.wire.texts(SIGNUP) == []
        await quiet
    assert place.wire.texts(SIGNUP) == ["two"]
    assert (place.wire.requests[SENDING], place.wire.requests[EDITING]) == (1, 0)


async def test_a_change_while_it_is_being_composed_is_not_lost(place: Town, board: Board) -> None:
    await place.place("board/1", "signup")
    loop = asyncio.get_running_loop()

    def again() -> None:
        board.meanwhile = None
        asyncio.run_coroutine_threadsafe(place.touch("board/*"), loop).result(10)
        board.text = "newer"

    board.meanwhile = again
    board.text = "older"
    await place.deliver()
    board.text = "newest"
    await place.deliver(within=3 * SECOND)
    assert place.wire.texts(SIGNUP) == ["newest"]


async def test_a_card_with_nothing_to_show_is_deleted_and_can_come_back(place: Town, board: Board) -> None:
    await place.place("board/1", "signup")
    await place.deliver()
    place.clock.move(3 * SECOND)
    await change(place, board, None)
    await place.deliver()
    assert place.wire.posts(SIGNUP) == []
    place.clock.move(3 * SECOND)
    await change(place, board, "again")
    await place.deliver()
    assert place.wire.texts(SIGNUP) == ["again"]


async def test_buttons_and_files_change_with_the_card(place: Town, board: Board) -> None:
    board.more = {
        "rows": ((Button(key="a", label="A"),),),
        "files": (Attachment(name="a.png", data=b"A"),),
    }
    await place.place("board/1", "signup")
    await place.deliver()
    place.clock.move(3 * SECOND)
    await change(place, board, "same picture")
    await place.deliver()
    assert "attachments" not in place.wire.log[-1][1], "a picture that stays is not sent again"
    (stands,) = place.wire.posts(SIGNUP)
    assert len(stands.files) == len(stands.components) == 1
    place.clock.move(3 * SECOND)
    board.more = {}
    await change(place, board, "bare")
    await place.deliver()
    assert (stands.files, stands.components) == ([], [])


async def test_a_card_that_somebody_deleted_is_posted_again(place: Town, board: Board) -> None:
    await place.place("board/1", "signup")
    await place.deliver()
    place.wire.posts(SIGNUP)[0].deleted = True
    place.clock.move(3 * SECOND)
    await change(place, board, "two")
    await place.deliver()
    assert place.wire.texts(SIGNUP) == ["two"]


async def test_a_message_edited_too_often_is_posted_anew_and_the_old_one_deleted(place: Town, board: Board) -> None:
    await place.place("board/1", "signup")
    await place.deliver()
    old = place.wire.posts(SIGNUP)[0].id
    place.clock.move(3 * SECOND)
    place.wire.before = once(refusal(429, 30046), route=EDITING)
    await change(place, board, "two")
    await place.deliver()
    (stands,) = place.wire.posts(SIGNUP)
    assert stands.content == "two" and stands.id != old


async def test_a_card_moves_with_its_room(place: Town, board: Board) -> None:
    await place.place("board/1", "signup")
    await place.deliver()
    place.clock.move(3 * SECOND)
    async with place.store.write() as db:
        await tryouts.set_room(db, place.tryout_id, "signup", NEWS)
    await place.deliver()
    assert place.wire.texts(SIGNUP) == [] and place.wire.texts(NEWS) == ["one"]


async def test_a_card_is_pinned_once_and_a_refused_pin_is_told_once(place: Town, board: Board) -> None:
    await place.place("board/1", "signup", pinned=True)
    await place.deliver()
    assert place.wire.pins() == {(await place.live("board/1")).message_id}
    place.wire.before = once(refusal(403, 50013), refusal(403, 50013), route=PINNING)
    await place.place("board/2", "signup", pinned=True)
    await place.place("board/3", "signup", pinned=True)
    await place.deliver(within=MINUTES)
    assert place.wire.texts(SIGNUP) == ["one"] * 3
    assert len(place.told()) == 1 and "pin" in place.told()[0]


async def test_a_card_that_may_not_be_posted_is_told_once_and_tried_again_when_it_changes(
    place: Town, board: Board
) -> None:
    place.wire.before = once(refusal(403, 50013))
    await place.place("board/1", "signup")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(SIGNUP) == [] and len(place.told()) == 1
    assert (await place.live("board/1")).failed == "HTTP 403, code 50013"
    await change(place, board, "two")
    await place.deliver()
    assert place.wire.texts(SIGNUP) == ["two"]
    assert (await place.live("board/1")).failed == ""


async def test_a_mistake_in_one_card_spares_the_others(
    place: Town, board: Board, caplog: pytest.LogCaptureFixture
) -> None:
    quoted = "what a child wrote"

    async def broken(db: Snapshot, tryout: Tryout, key: str) -> Message:
        raise ValueError(quoted)

    live_message("broken")(broken)
    await place.place("broken/1", "signup")
    await place.place("unknown/1", "signup")
    await place.place("board/1", "signup")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(SIGNUP) == ["one"]
    failed = (await place.live("broken/1")).failed
    assert failed.startswith("fault ") and failed.removeprefix("fault ") in caplog.text
    assert quoted not in caplog.text


@pytest.mark.parametrize("acted", [False, True], ids=["before the server acted", "after the server acted"])
@pytest.mark.parametrize("tells_nonces", [False, True])
async def test_a_card_is_not_doubled_by_a_bad_network(
    place: Town, board: Board, acted: bool, tells_nonces: bool
) -> None:
    place.wire.nonces(told=tells_nonces)
    setattr(place.wire, "after" if acted else "before", once(RESET, RESET))
    await place.place("board/1", "signup")
    async with place.post() as opened:
        await opened.quiet()
        await change(place, board, "two")
        await place.settle(opened, MINUTES)
    assert place.wire.texts(SIGNUP) == ["two"]


async def test_two_live_messages_with_the_same_words_stay_two(place: Town, board: Board) -> None:
    place.wire.nonces(remembered=False)
    place.wire.after = once(RESET, RESET)
    await place.place("board/1", "signup")
    await place.place("board/2", "signup")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(SIGNUP) == ["one", "one"]
    assert (await place.live("board/1")).message_id != (await place.live("board/2")).message_id


async def test_messages_come_before_live_messages_at_one_address(place: Town, board: Board) -> None:
    await place.place("board/1", "office")
    await place.queue("office", "a message")
    await place.deliver()
    assert place.wire.texts(OFFICE) == ["a message", "one"]


async def test_an_older_text_that_the_platform_gives_back_is_brought_up_to_date(place: Town, board: Board) -> None:
    place.wire.after = once(RESET)
    place.wire.before = once(answer([]), route=LOOKING)
    await place.place("board/1", "signup")
    async with place.post() as opened:
        await opened.quiet()
        await change(place, board, "two")
        await place.settle(opened, MINUTES)
    assert place.wire.texts(SIGNUP) == ["two"]
    assert place.wire.requests[EDITING] == 1
