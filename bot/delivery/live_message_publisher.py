"""Showing one live message: posted, edited in place, moved, pinned or deleted, whatever it needs now."""

import logging
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import discord

from bot.actions.core import live_messages as composers
from bot.actions.core.fault_log import log_fault
from bot.actions.delivery import direct_messages, lost_rooms, outbox_outcome
from bot.actions.delivery.destination import Destination
from bot.actions.delivery.lane_work import Composed
from bot.clock import Clock
from bot.delivery.error_classification import Classification, classify
from bot.delivery.posting import change, post
from bot.delivery.room_opener import RoomOpener
from bot.delivery.sent_lookup import find_own
from bot.rules.delivery.sending_limits import MOST_OLD_EDITS, freely_edited
from bot.words.delivery import undelivered as words
from storage.records.live_messages import LiveMessage
from storage.records.message import Message
from storage.store import Store
from storage.tables import live_messages, tryouts
from storage.tables.sql_session import Snapshot, Transaction

log = logging.getLogger(__name__)


def _shows(live: LiveMessage, message: Message | None, room_id: int) -> bool:
    """Whether nothing is to be done for a live message: it stands as it should, or there is nothing to show."""
    if live.claimed_at is not None or live.old_message_id is not None or live.pin_open:
        return False
    if message is None:
        return live.message_id is None
    return live.message_id is not None and live.room_id == room_id and live.shown == composers.digest(message)


@dataclass(frozen=True)
class LiveMessagePublisher:
    """Shows live messages in rooms."""

    client: discord.Client
    store: Store
    clock: Clock
    opener: RoomOpener

    async def show(self, composed: Composed, destination: Destination) -> None:
        """Bring one live message up to date.

        Raises:
            Exception: what `classify` calls `later`; nothing is lost, it is to be tried again.
        """
        live, message = composed.live, composed.message
        if live is None:
            return
        if isinstance(message, Exception):
            await self._give_up(live, log_fault(log, f"composing {live.key}", message))
            return
        try:
            posted = live.stale > 0 and await self._bring(live, message, destination)
            if posted or live.old_message_id is not None or live.pin_open:
                await self._tidy(live.id, destination)
        except Exception as error:
            trouble = classify(error, self.client)
            if trouble.meaning == "later":
                raise
            if trouble.meaning == "fault":
                await self._give_up(live, log_fault(log, f"showing {live.key}", error))
            else:
                await self._refused(live, destination, trouble)

    async def settle_unchanged(self, found: Sequence[LiveMessage], room_id: int) -> set[int]:
        """Of live messages in one room, note all at once those that show already what they should; their ids."""
        unchanged = await self.store.look(lambda db: _unchanged(db, found, room_id))
        if unchanged:
            await self.store.transact(lambda db: _settle(db, unchanged))
        return {live.id for live in unchanged}

    async def _give_up(self, live: LiveMessage, code: str) -> None:
        """A mistake of ours: it is not tried again until something changes."""
        await self.store.transact(lambda db: live_messages.settled(db, live.id, live.stale, f"fault {code}"))

    async def _bring(self, live: LiveMessage, message: Message | None, destination: Destination) -> bool:
        """Make it show the message; whether that was posted anew."""
        assert destination.room_id is not None
        if message is None:
            await self._take_down(live)
            return False
        wanted = composers.digest(message)
        if live.message_id is not None and live.room_id == destination.room_id:
            if live.shown == wanted:
                await self.store.transact(lambda db: live_messages.settled(db, live.id, live.stale))
                return False
            if await self._edit(live, message, wanted):
                return False
        await self._post(live, message, wanted, destination.room_id)
        return True

    async def _edit(self, live: LiveMessage, message: Message, wanted: str) -> bool:
        """Change the message in place; whether that was possible."""
        room_id, message_id = live.room_id, live.message_id
        assert room_id is not None and message_id is not None
        if live.old_edits >= MOST_OLD_EDITS:
            return False
        keep_files = composers.same_files(live.shown, wanted)
        try:
            await self.opener.awake(
                room_id, lambda: change(self.client, room_id, message_id, message, keep_files=keep_files)
            )
        except discord.HTTPException as error:
            meaning = classify(error, self.client).meaning
            if meaning == "deleted":
                await self.store.transact(lambda db: live_messages.vanished(db, live.id))
                return False
            if meaning == "worn":
                return False
            raise
        now = self.clock.now()
        old = not freely_edited(message_id, now)
        await self.store.transact(lambda db: live_messages.edited(db, live.id, wanted, live.stale, now, old=old))
        return True

    async def _post(self, live: LiveMessage, message: Message, wanted: str, room_id: int) -> None:
        """Post it anew, unless an earlier try turns out to have done so."""
        found, now = await self._look(live), self.clock.now()
        if found is not None:
            # What it shows may be older: it is brought up to date at the next occasion.
            await self.store.transact(lambda db: live_messages.posted(db, live.id, found, "", 0, now))
            return
        nonce = await self.store.transact(lambda db: _claim(db, live.id, room_id, message.text, now))
        sent = await self.opener.awake(room_id, lambda: post(self.client, room_id, message, nonce))
        # Under a nonce the platform remembers, it may give back what an earlier try posted.
        fresh = sent.text == message.text.strip()
        shown, seen = (wanted, live.stale) if fresh else ("", 0)
        now = self.clock.now()
        await self.store.transact(lambda db: live_messages.posted(db, live.id, sent.id, shown, seen, now))

    async def _look(self, live: LiveMessage) -> int | None:
        if live.claimed_at is None or live.room_id is None:
            return None
        nonce = await self.store.look(lambda db: live_messages.nonce(db, live.id))
        try:
            return await find_own(
                self.opener, self.store, live.room_id, nonce, live.claimed_text or "", None, live.claimed_at
            )
        except (discord.NotFound, discord.Forbidden):
            return None

    async def _take_down(self, live: LiveMessage) -> None:
        """There is nothing to show any more."""
        message_id = live.message_id if live.message_id is not None else await self._look(live)
        for room_id, standing in ((live.room_id, message_id), (live.old_room_id, live.old_message_id)):
            if room_id is not None and standing is not None:
                await self._delete(room_id, standing)
        await self.store.transact(lambda db: _taken_down(db, live))

    async def _delete(self, room_id: int, message_id: int) -> None:
        """Delete a message; one that is gone, or not to be reached any more, is as good as deleted."""
        try:
            await self.opener.awake(room_id, self.opener.room(room_id).get_partial_message(message_id).delete)
        except (discord.NotFound, discord.Forbidden):
            return

    async def _tidy(self, live_id: int, destination: Destination) -> None:
        """Delete the message it took the place of, and pin the new one."""
        live = await self.store.look(lambda db: live_messages.get(db, live_id))
        if live is None or live.message_id is None or live.room_id is None:
            return
        if live.old_message_id is not None and live.old_room_id is not None:
            await self._delete(live.old_room_id, live.old_message_id)
            await self.store.transact(lambda db: live_messages.old_gone(db, live_id))
        if live.pin_open:
            await self._pin(live, live.room_id, live.message_id, destination)

    async def _pin(self, live: LiveMessage, room_id: int, message_id: int, destination: Destination) -> None:
        try:
            await self.opener.awake(room_id, self.opener.room(room_id).get_partial_message(message_id).pin)
        except discord.HTTPException as error:
            if classify(error, self.client).meaning == "later":
                raise
            trouble, now = words.trouble("no-pin", destination.label), self.clock.now()
            await self.store.transact(lambda db: outbox_outcome.tell_once(db, destination, "no-pin", trouble, now))
        await self.store.transact(lambda db: live_messages.pin_done(db, live.id))

    async def _refused(self, live: LiveMessage, destination: Destination, trouble: Classification) -> None:
        """Prepare another way to the address, or note why it cannot be shown and tell the coach once."""
        now = self.clock.now()

        async def note(db: Transaction) -> bool:
            if trouble.meaning in ("closed", "gone") and destination.direct:
                await direct_messages.closed(db, destination, now)
                return False
            if trouble.meaning == "gone" and destination.private and await lost_rooms.room_lost(db, destination, now):
                return False
            why = words.WHY["gone" if trouble.meaning == "gone" else "forbidden"]
            await live_messages.settled(db, live.id, live.stale, trouble.why)
            await outbox_outcome.tell_once(
                db, destination, "live-message", words.trouble("live-message", destination.label, why=why), now
            )
            return True

        if await self.store.transact(note):
            log.warning("live message %s for %s cannot be shown: %s", live.key, destination.address, trouble.why)


async def _unchanged(db: Snapshot, found: Sequence[LiveMessage], room_id: int) -> list[LiveMessage]:
    """Those of live messages of one try-out that show already what they should."""
    composer = composers.Composer(db, await tryouts.get(db, found[0].tryout_id))
    unchanged = []
    for live in found:
        try:
            message = await composer.compose(live.key)
        except Exception:  # noqa: BLE001 - it is told when this one is shown by itself
            continue
        if _shows(live, message, room_id):
            unchanged.append(live)
    return unchanged


async def _settle(db: Transaction, unchanged: Sequence[LiveMessage]) -> None:
    for live in unchanged:
        await live_messages.settled(db, live.id, live.stale)


async def _claim(db: Transaction, live_id: int, room_id: int, text: str, now: datetime) -> str:
    """Note that a live message is about to be posted; the nonce under which it is."""
    await live_messages.claim(db, live_id, room_id, text, now)
    return await live_messages.nonce(db, live_id)


async def _taken_down(db: Transaction, live: LiveMessage) -> None:
    await live_messages.vanished(db, live.id)
    await live_messages.old_gone(db, live.id)
    await live_messages.settled(db, live.id, live.stale)
