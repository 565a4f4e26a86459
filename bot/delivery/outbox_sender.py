"""Sending one letter effectively once: claim it, send it under its nonce, settle it."""

import logging
from dataclasses import dataclass
from datetime import datetime

import discord

from bot.actions.core.fault_log import log_fault
from bot.actions.delivery import outbox_outcome
from bot.actions.delivery.destination import Place
from bot.clock import Clock
from bot.delivery.channels import Porter
from bot.delivery.error_classification import Meaning, Trouble, understand
from bot.delivery.render import message_kwargs
from bot.delivery.sent_lookup import find_own
from storage.faults import StorageFault
from storage.records.delivery import Letter
from storage.store import Store
from storage.tables import outbox
from storage.tables.sql_session import Conflict, Transaction

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Carrier:
    """Carries letters to rooms."""

    client: discord.Client
    store: Store
    clock: Clock
    porter: Porter

    async def carry(self, letter: Letter, place: Place) -> bool:
        """Deliver one letter, or note why not; whether the next one of the same address may follow at once."""
        assert place.room_id is not None
        looked = letter.state != "claimed"
        try:
            message_id = None if looked else await self._look(letter, place.room_id)
            looked = True
            if message_id is None:
                if await self._too_late(letter):
                    return True
                message_id = await self._send(letter, place.room_id)
        except StorageFault:
            # Nothing can be noted now; a letter that is claimed is looked for when that is over.
            raise
        except Exception as error:  # noqa: BLE001 - every error is understood and noted
            trouble = understand(error, self.client)
            if trouble.meaning == "deleted":
                # Our message stood there and somebody deleted it: it has been said.
                return await self._settle(letter, None)
            code = log_fault(log, f"sending letter {letter.id}", error) if trouble.meaning == "fault" else ""
            return await self._failed(letter, place, trouble, code, doubtful=trouble.doubtful or not looked)
        return await self._settle(letter, message_id)

    async def _look(self, letter: Letter, room_id: int) -> int | None:
        """The message of a letter that an earlier try may have posted."""
        assert letter.room_id is not None and letter.claimed_at is not None
        text, files = letter.message.text, len(letter.message.files)
        try:
            return await find_own(self.porter, self.store, letter.room_id, letter.nonce, text, files, letter.claimed_at)
        except (discord.NotFound, discord.Forbidden):
            if letter.room_id == room_id:
                raise
            # It was meant for a room that is gone, and has another one now.
            return None

    async def _too_late(self, letter: Letter) -> bool:
        now = self.clock.now()
        if letter.stale_after is None or now <= letter.stale_after:
            return False
        async with self.store.write() as db:
            await outbox_outcome.skipped(db, letter, "too-late", now)
        return True

    async def _send(self, letter: Letter, room_id: int) -> int:
        async with self.store.write() as db:
            await outbox.claim(db, letter.id, room_id, self.clock.now())
        room = self.porter.room(room_id)
        # Dressed at each try: a file can be read once only.
        sent = await self.porter.awake(room_id, lambda: room.send(**message_kwargs(letter.message), nonce=letter.nonce))
        return sent.id

    async def _settle(self, letter: Letter, message_id: int | None) -> bool:
        try:
            async with self.store.write() as db:
                await outbox_outcome.sent(db, letter, message_id, self.clock.now())
        except Conflict:
            # The message found is another letter's after all, with the same words: look again.
            async with self.store.write() as db:
                await outbox_outcome.put_off(db, letter, self.clock.now(), "taken", doubtful=True)
            return False
        return True

    async def _failed(self, letter: Letter, place: Place, trouble: Trouble, code: str, doubtful: bool) -> bool:
        now, cause = self.clock.now(), trouble.meaning
        async with self.store.write() as db:
            if cause == "later" or (cause == "fault" and letter.tries + 1 < outbox_outcome.FAULTS_BORNE):
                why = f"fault {code}" if code else trouble.why
                await outbox_outcome.put_off(db, letter, now, why, doubtful, trouble.wait)
                return False
            if await self._elsewhere(db, letter, place, cause, now):
                await outbox.postpone(db, letter.id, now, doubtful=False, why=trouble.why)
                return True
            if cause in ("asleep", "worn"):
                cause = "forbidden"
            await outbox_outcome.failed(db, letter, place, cause, now, code)
        log.warning("letter %d for %s was not delivered: %s", letter.id, place.to, trouble.why)
        return True

    async def _elsewhere(self, db: Transaction, letter: Letter, place: Place, cause: Meaning, now: datetime) -> bool:
        """Whether the letter may reach its address by another way, which is then prepared."""
        if cause == "gone" and place.direct and letter.tries == 0:
            await outbox_outcome.direct_lost(db, place)
            return True
        if cause in ("closed", "gone") and place.direct:
            await outbox_outcome.direct_closed(db, place, now)
            return True
        return cause == "gone" and place.private and await outbox_outcome.room_lost(db, place, now)
