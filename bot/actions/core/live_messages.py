"""Live messages: what each kind of them shows, composed when it is sent and not when something changed."""

import hashlib
from collections.abc import Awaitable, Callable, Sequence
from datetime import datetime
from typing import TypeVar

from bot.actions.core.subject_loading import learn_kind
from storage.records.live_messages import LiveMessage
from storage.records.message import Message
from storage.records.tryout import Tryout
from storage.store import Store
from storage.tables import live_messages
from storage.tables.sql_session import Snapshot, Transaction

Compose = Callable[[Snapshot, Tryout, str], Awaitable[Message | None]]
COMPOSERS: dict[str, Compose] = {}
ComposeBoard = Callable[[Snapshot, Tryout], Awaitable[Sequence[Message]]]
BOARDS: dict[str, ComposeBoard] = {}

Composed = TypeVar("Composed", bound=Compose)
"""`async (db: Snapshot, tryout, key) -> Message | None`"""
ComposedBoard = TypeVar("ComposedBoard", bound=ComposeBoard)
"""`async (db: Snapshot, tryout) -> list[Message]`"""


def live_message(kind: str) -> Callable[[Composed], Composed]:
    """Mark a function as what the live messages show whose key is `kind` or begins with `kind/`.

    It gets the whole key, and returns None when there is nothing to show: the message is then deleted.
    """

    def keep(compose: Composed) -> Composed:
        if kind in COMPOSERS:
            raise ValueError(f"two functions for the live messages {kind}")
        COMPOSERS[kind] = compose
        return compose

    return keep


def live_board(kind: str) -> Callable[[ComposedBoard], ComposedBoard]:
    """Mark a function as what the live messages `kind/1`, `kind/2` … show together: a board in so many messages.

    Those for which there is nothing left to show are deleted.
    """

    def keep(compose: ComposedBoard) -> ComposedBoard:
        if kind in BOARDS:
            raise ValueError(f"two functions for the board {kind}")
        BOARDS[kind] = compose
        return compose

    return keep


class Composer:
    """Composes live messages of one try-out at one moment, each board once for all its messages."""

    def __init__(self, db: Snapshot, tryout: Tryout) -> None:
        self._db = db
        self._tryout = tryout
        self._boards: dict[str, Sequence[Message]] = {}

    async def compose(self, key: str) -> Message | None:
        """What a live message shows.

        Raises:
            LookupError: nobody composes live messages of this kind.
        """
        kind, _, number = key.partition("/")
        learn_kind(kind)
        if kind in COMPOSERS:
            return await COMPOSERS[kind](self._db, self._tryout, key)
        if kind not in BOARDS:
            raise LookupError(f"nobody composes {kind}")
        if kind not in self._boards:
            self._boards[kind] = await BOARDS[kind](self._db, self._tryout)
        return self._boards[kind][int(number) - 1] if int(number) <= len(self._boards[kind]) else None


async def compose(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """What a live message shows now.

    Raises:
        LookupError: nobody composes live messages of this kind.
    """
    return await Composer(db, tryout).compose(key)


async def shown_by_answer(db: Transaction, live: LiveMessage, message: Message, now: datetime) -> None:
    """Note that the answer to a press changes a live message's message itself, so that the delivery worker need not."""
    current = await live_messages.get(db, live.id)
    assert current is not None
    await live_messages.edited(db, live.id, digest(message), current.stale, now)


async def not_shown(store: Store, message_id: int) -> None:
    """An answer that should have changed a message did not arrive: the delivery worker brings it up to date."""
    await store.transact(lambda db: live_messages.doubted(db, message_id))


async def look_again(store: Store) -> None:
    """After a start nobody knows whether the last answers arrived: judges' lists are brought up to date."""
    await store.transact(lambda db: live_messages.all_doubted(db, "judge/*"))


def digest(message: Message) -> str:
    """A fingerprint of what a live message shows: words and buttons, then files, which an edit may leave alone."""
    words = hashlib.sha256(message.model_dump_json(exclude={"files"}).encode()).hexdigest()
    files = hashlib.sha256()
    for file in message.files:
        files.update(f"{file.name}\0{file.alt}\0{len(file.data)}\0".encode())
        files.update(file.data)
    return f"{words[:32]}/{files.hexdigest()[:32]}"


def same_files(shown: str, wanted: str) -> bool:
    """Whether two fingerprints have the same files."""
    return shown.partition("/")[2] == wanted.partition("/")[2]
