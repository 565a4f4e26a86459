"""What can be delivered at this moment, address by address, and when there will be more."""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import datetime

from bot.actions.delivery.destination import destinations_of
from bot.rules.delivery import pending_work as rules
from bot.rules.delivery.sending_limits import rests_until
from storage.tables import delivery_incidents, live_messages, outbox, rooms
from storage.tables.pending_work import kinds_of_work
from storage.tables.sql_session import Snapshot

Lane = tuple[int, str]
"""A try-out's id and an address: what is delivered one after the other."""


@dataclass
class _Work:
    order: rules.Turn = rules.ROOM_ALONE
    now: bool = False
    facts: list[object] = field(default_factory=list)


@dataclass(frozen=True)
class PendingWork:
    """What can be done now, and the next instant at which there may be more."""

    ready: dict[Lane, str]
    """Lanes with work, in the order in which to begin, each with a description that changes with every step done."""
    wake: datetime | None
    troubled: frozenset[Lane] = frozenset()
    """Lanes of which the coach has been told that something stands in the way, and not yet that it was mended."""


async def find_pending_work(db: Snapshot, now: datetime) -> PendingWork:
    """Look through outbox, live messages and private rooms."""
    work: defaultdict[Lane, _Work] = defaultdict(_Work)
    later: list[datetime] = []
    there = await kinds_of_work(db)
    heads = await outbox.heads(db) if there.messages else []
    lives = await live_messages.open_live_messages(db) if there.live else []
    opening = await rooms.rooms_with_work(db) if there.rooms else []
    destinations = await destinations_of(
        db,
        [
            *((head.tryout_id, head.address) for head in heads),
            *((live.tryout_id, live.address) for live in lives),
            *((room.tryout_id, f"squad/{room.squad_id}") for room in opening),
        ],
    )
    for head in heads:
        lane = work[head.tryout_id, head.address]
        lane.order = rules.turn_of_message(head.outbox_id)
        lane.facts.append(("message", head.outbox_id, head.tries))
        stale = head.stale_after is not None and head.stale_after <= now
        if head.not_before <= now or stale:
            lane.now |= stale or not destinations[head.tryout_id, head.address].waits
        else:
            later.append(head.not_before)
    for live in lives:
        lane = work[live.tryout_id, live.address]
        lane.order = min(lane.order, rules.turn_of_live_message(live.id))
        lane.facts.append((live.id, live.stale, live.posts, live.pin_open, live.old_message_id, live.claimed_at))
        lane.facts.append((live.shown, live.edited_at))
        rested = rests_until(live.edited_at)
        if rested is not None and rested > now:
            later.append(rested)
        elif not destinations[live.tryout_id, live.address].waits:
            lane.now = True
    for room in opening:
        key = room.tryout_id, f"squad/{room.squad_id}"
        if rules.room_work(room, destinations[key].opening == "private"):
            lane = work[key]
            lane.facts.append(room)
            lane.now = True
    ready = sorted((lane for lane in work if work[lane].now), key=lambda lane: (work[lane].order, lane))
    troubled = frozenset(await delivery_incidents.troubled(db) if there.incidents else ())
    return PendingWork({lane: repr(work[lane].facts) for lane in ready}, min(later, default=None), troubled)
