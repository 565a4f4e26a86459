"""Showing one living message: posted, edited in place, moved, pinned or deleted, whatever it needs now."""

import logging
from dataclasses import dataclass

import discord

from bot.actions.core import live_messages as composers
from bot.actions.core.fault_log import log_fault
from bot.actions.delivery import outbox_outcome
from bot.actions.delivery.destination import Place
from bot.actions.delivery.pending_work import rest_of
from bot.clock import Clock
from bot.delivery.channels import Porter
from bot.delivery.error_classification import Trouble, understand
from bot.delivery.render import message_kwargs
from bot.delivery.sent_lookup import find_own
from bot.rules.core.snowflakes import freely_edited
from bot.words.delivery import undelivered as words
from storage.records.delivery import Card
from storage.records.message import Message
from storage.store import Store
from storage.tables import live_messages, tryouts

log = logging.getLogger(__name__)

MOST_OLD_EDITS = 20
"""A message over an hour old is edited so often, then it is posted anew: the platform's own limit is unpublished."""


@dataclass(frozen=True)
class Shower:
    """Shows living messages in rooms."""

    client: discord.Client
    store: Store
    clock: Clock
    porter: Porter

    async def show(self, card_id: int, place: Place) -> None:
        """Bring one living message up to date, composing it now.

        Raises:
            Exception: what `trouble.understand` calls `later`; nothing is lost, it is to be tried again.
        """
        async with self.store.read() as snapshot:
            card = await live_messages.get(snapshot, card_id)
            if card is None or ((rest := rest_of(card)) is not None and rest > self.clock.now()):
                return
            tryout = await tryouts.get(snapshot, card.tryout_id)
            try:
                message = await composers.compose(snapshot, tryout, card.key) if card.stale else None
            except Exception as error:  # noqa: BLE001 - the other cards go on
                await self._give_up(card, log_fault(log, f"composing {card.key}", error))
                return
        try:
            if card.stale:
                await self._bring(card, message, place)
            await self._tidy(card_id, place)
        except Exception as error:
            trouble = understand(error, self.client)
            if trouble.meaning == "later":
                raise
            if trouble.meaning == "fault":
                await self._give_up(card, log_fault(log, f"showing {card.key}", error))
            else:
                await self._refused(card, place, trouble)

    async def _give_up(self, card: Card, code: str) -> None:
        """A mistake of ours: it is not tried again until something changes."""
        async with self.store.write() as db:
            await live_messages.settled(db, card.id, card.stale, f"fault {code}")

    async def _bring(self, card: Card, message: Message | None, place: Place) -> None:
        assert place.room_id is not None
        if message is None:
            await self._take_down(card)
            return
        wanted = composers.digest(message)
        if card.message_id is None or card.room_id != place.room_id:
            await self._post(card, message, wanted, place.room_id)
        elif card.shown == wanted:
            async with self.store.write() as db:
                await live_messages.settled(db, card.id, card.stale)
        elif not await self._edit(card, message, wanted):
            await self._post(card, message, wanted, place.room_id)

    async def _edit(self, card: Card, message: Message, wanted: str) -> bool:
        """Change the message in place; whether that was possible."""
        assert card.room_id is not None and card.message_id is not None
        if card.old_edits >= MOST_OLD_EDITS:
            return False
        post = self.porter.room(card.room_id).get_partial_message(card.message_id)

        async def change() -> None:
            kwargs = message_kwargs(message, editing=True)
            if composers.same_files(card.shown, wanted):
                # Files that are not named anew stay as they are.
                del kwargs["attachments"]
            await post.edit(**kwargs)

        try:
            await self.porter.awake(card.room_id, change)
        except discord.HTTPException as error:
            meaning = understand(error, self.client).meaning
            if meaning == "deleted":
                async with self.store.write() as db:
                    await live_messages.vanished(db, card.id)
                return False
            if meaning == "worn":
                return False
            raise
        async with self.store.write() as db:
            now = self.clock.now()
            old = not freely_edited(card.message_id, now)
            await live_messages.edited(db, card.id, wanted, card.stale, now, old=old)
        return True

    async def _post(self, card: Card, message: Message, wanted: str, room_id: int) -> None:
        """Post it anew, unless an earlier try turns out to have done so."""
        found = await self._look(card)
        if found is not None:
            # What it shows may be older: it is brought up to date at the next occasion.
            async with self.store.write() as db:
                await live_messages.posted(db, card.id, found, "", 0, self.clock.now())
            return
        async with self.store.write() as db:
            await live_messages.claim(db, card.id, room_id, message.text, self.clock.now())
            nonce = await live_messages.nonce(db, card.id)
        room = self.porter.room(room_id)
        sent = await self.porter.awake(room_id, lambda: room.send(**message_kwargs(message), nonce=nonce))
        # Under a nonce the platform remembers, it may give back what an earlier try posted.
        fresh = sent.content == message.text.strip()
        shown, seen = (wanted, card.stale) if fresh else ("", 0)
        async with self.store.write() as db:
            await live_messages.posted(db, card.id, sent.id, shown, seen, self.clock.now())

    async def _look(self, card: Card) -> int | None:
        if card.claimed_at is None or card.room_id is None:
            return None
        async with self.store.read() as snapshot:
            nonce = await live_messages.nonce(snapshot, card.id)
        try:
            return await find_own(
                self.porter, self.store, card.room_id, nonce, card.claimed_text or "", None, card.claimed_at
            )
        except (discord.NotFound, discord.Forbidden):
            return None

    async def _take_down(self, card: Card) -> None:
        """There is nothing to show any more."""
        message_id = card.message_id if card.message_id is not None else await self._look(card)
        for room_id, standing in ((card.room_id, message_id), (card.old_room_id, card.old_message_id)):
            if room_id is not None and standing is not None:
                await self._delete(room_id, standing)
        async with self.store.write() as db:
            await live_messages.vanished(db, card.id)
            await live_messages.old_gone(db, card.id)
            await live_messages.settled(db, card.id, card.stale)

    async def _delete(self, room_id: int, message_id: int) -> None:
        """Delete a message; one that is gone, or not to be reached any more, is as good as deleted."""
        try:
            await self.porter.awake(room_id, self.porter.room(room_id).get_partial_message(message_id).delete)
        except (discord.NotFound, discord.Forbidden):
            return

    async def _tidy(self, card_id: int, place: Place) -> None:
        """Delete the message it took the place of, and pin the new one."""
        async with self.store.read() as snapshot:
            card = await live_messages.get(snapshot, card_id)
        if card is None or card.message_id is None or card.room_id is None:
            return
        if card.old_message_id is not None and card.old_room_id is not None:
            await self._delete(card.old_room_id, card.old_message_id)
            async with self.store.write() as db:
                await live_messages.old_gone(db, card.id)
        if card.pin_open:
            await self._pin(card, card.room_id, card.message_id, place)

    async def _pin(self, card: Card, room_id: int, message_id: int, place: Place) -> None:
        try:
            await self.porter.awake(room_id, self.porter.room(room_id).get_partial_message(message_id).pin)
        except discord.HTTPException as error:
            if understand(error, self.client).meaning == "later":
                raise
            async with self.store.write() as db:
                trouble = words.trouble("no-pin", place.label)
                await outbox_outcome.tell_once(db, place, "no-pin", trouble, self.clock.now())
        async with self.store.write() as db:
            await live_messages.pin_done(db, card.id)

    async def _refused(self, card: Card, place: Place, trouble: Trouble) -> None:
        """Prepare another way to the address, or note why it cannot be shown and tell the coach once."""
        now = self.clock.now()
        async with self.store.write() as db:
            if trouble.meaning in ("closed", "gone") and place.direct:
                await outbox_outcome.direct_closed(db, place, now)
                return
            if trouble.meaning == "gone" and place.private and await outbox_outcome.room_lost(db, place, now):
                return
            why = words.WHY["gone" if trouble.meaning == "gone" else "forbidden"]
            await live_messages.settled(db, card.id, card.stale, trouble.why)
            await outbox_outcome.tell_once(db, place, "card", words.trouble("card", place.label, why=why), now)
        log.warning("card %s for %s cannot be shown: %s", card.key, place.to, trouble.why)
