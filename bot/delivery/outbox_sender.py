"""Sending one outbox message effectively once: claim it, send it under its nonce, settle it."""

import logging
from dataclasses import dataclass
from datetime import datetime

import discord

from bot.actions.core.fault_log import log_fault
from bot.actions.delivery import direct_messages, lost_rooms, outbox_outcome
from bot.actions.delivery.destination import Destination
from bot.clock import Clock
from bot.delivery.error_classification import Classification, Meaning, classify
from bot.delivery.posting import post
from bot.delivery.room_opener import RoomOpener
from bot.delivery.sent_lookup import find_own
from bot.rules.delivery.backoff import FAULTS_BORNE
from storage.file_errors import StorageFault
from storage.records.outbox import OutboxMessage
from storage.store import Store
from storage.tables import outbox
from storage.tables.sql_session import Conflict, Transaction

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class OutboxSender:
    """Carries outbox messages to rooms."""

    client: discord.Client
    store: Store
    clock: Clock
    opener: RoomOpener

    async def deliver(self, outgoing: OutboxMessage, destination: Destination) -> bool:
        """Deliver one outbox message, or note why not; whether the next one of the same address may follow at once."""
        assert destination.room_id is not None
        looked = outgoing.state != "claimed"
        try:
            message_id = None if looked else await self._look(outgoing, destination.room_id)
            looked = True
            if message_id is None:
                if await self._too_late(outgoing):
                    return True
                message_id = await self._send(outgoing, destination.room_id)
                if message_id is None:
                    return True
        except StorageFault:
            # Nothing can be noted now; an outbox message that is claimed is looked for when that is over.
            raise
        except Exception as error:  # noqa: BLE001 - every error is understood and noted
            trouble = classify(error, self.client)
            if trouble.meaning == "deleted":
                # Our message stood there and somebody deleted it: it has been said.
                return await self._settle(outgoing, None)
            code = log_fault(log, f"sending message {outgoing.id}", error) if trouble.meaning == "fault" else ""
            return await self._failed(outgoing, destination, trouble, code, doubtful=trouble.doubtful or not looked)
        return await self._settle(outgoing, message_id)

    async def _look(self, outgoing: OutboxMessage, room_id: int) -> int | None:
        """The message of an outbox message that an earlier try may have posted."""
        assert outgoing.room_id is not None and outgoing.claimed_at is not None
        text, files = outgoing.message.text, len(outgoing.message.files)
        try:
            return await find_own(
                self.opener, self.store, outgoing.room_id, outgoing.nonce, text, files, outgoing.claimed_at
            )
        except (discord.NotFound, discord.Forbidden):
            if outgoing.room_id == room_id:
                raise
            # It was meant for a room that is gone, and has another one now.
            return None

    async def _too_late(self, outgoing: OutboxMessage) -> bool:
        now = self.clock.now()
        if outgoing.stale_after is None or now < outgoing.stale_after:
            return False
        await self.store.transact(lambda db: outbox_outcome.skipped(db, outgoing, "too-late", now))
        return True

    async def _send(self, outgoing: OutboxMessage, room_id: int) -> int | None:
        """The message that it is then; None if it is not to be sent any more, because all names were erased since."""
        now = self.clock.now()
        claimed = await self.store.transact(lambda db: outbox.claim(db, outgoing.id, room_id, now))
        if claimed is None:
            return None
        sent = await self.opener.awake(room_id, lambda: post(self.client, room_id, claimed.message, claimed.nonce))
        return sent.id

    async def _settle(self, outgoing: OutboxMessage, message_id: int | None) -> bool:
        now = self.clock.now()
        try:
            await self.store.transact(lambda db: outbox_outcome.sent(db, outgoing, message_id, now))
        except Conflict:
            # The message found is another outbox message's after all, with the same words: look again.
            await self.store.transact(lambda db: outbox_outcome.put_off(db, outgoing, now, "taken", doubtful=True))
            return False
        return True

    async def _failed(
        self, outgoing: OutboxMessage, destination: Destination, trouble: Classification, code: str, doubtful: bool
    ) -> bool:
        now = self.clock.now()

        async def note(db: Transaction) -> bool:
            cause = trouble.meaning
            if cause == "later" or (cause == "fault" and outgoing.tries + 1 < FAULTS_BORNE):
                why = f"fault {code}" if code else trouble.why
                await outbox_outcome.put_off(db, outgoing, now, why, doubtful, trouble.wait)
                return False
            if await self._elsewhere(db, outgoing, destination, cause, now):
                await outbox.postpone(db, outgoing.id, now, doubtful=False, why=trouble.why)
                return True
            if cause in ("asleep", "worn"):
                cause = "forbidden"
            await outbox_outcome.failed(db, outgoing, destination, cause, now, code)
            log.warning("message %d for %s was not delivered: %s", outgoing.id, destination.address, trouble.why)
            return True

        return await self.store.transact(note)

    async def _elsewhere(
        self, db: Transaction, outgoing: OutboxMessage, destination: Destination, cause: Meaning, now: datetime
    ) -> bool:
        """Whether the outbox message may reach its address by another way, which is then prepared."""
        if cause == "gone" and destination.direct and outgoing.tries == 0:
            await direct_messages.lost(db, destination)
            return True
        if cause in ("closed", "gone") and destination.direct:
            await direct_messages.closed(db, destination, now)
            return True
        return cause == "gone" and destination.private and await lost_rooms.room_lost(db, destination, now)
