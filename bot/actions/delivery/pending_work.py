"""What can be delivered at this moment, address by address, and when there will be more."""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from bot.actions.delivery.destination import Place, place_of, squad_places
from bot.words.delivery.undelivered import squad_room_name
from storage.records.delivery import Card, Room
from storage.tables import live_messages, outbox, rooms
from storage.tables.sql_session import Snapshot

EDIT_PAUSE = timedelta(seconds=2)
"""A living message is changed at most once in this time; changes in between are shown together."""

Lane = tuple[int, str]
"""A try-out's id and an address: what is delivered one after the other."""


@dataclass
class _Work:
    order: tuple[int, int] = (2, 0)
    now: bool = False
    facts: list[object] = field(default_factory=list)


@dataclass(frozen=True)
class Survey:
    """What can be done now, and the next instant at which there may be more."""

    ready: dict[Lane, str]
    """Lanes with work, in the order in which to begin, each with a description that changes with every step done."""
    wake: datetime | None


async def survey(db: Snapshot, now: datetime) -> Survey:
    """Look through outbox, living messages and private rooms."""
    work: defaultdict[Lane, _Work] = defaultdict(_Work)
    later: list[datetime] = []
    places = await squad_places(db)

    async def place(lane: Lane) -> Place:
        if lane not in places:
            places[lane] = await place_of(db, *lane)
        return places[lane]

    for head in await outbox.heads(db):
        lane = work[head.tryout_id, head.to]
        lane.order = (0, head.letter_id)
        lane.facts.append(("letter", head.letter_id, head.tries))
        stale = head.stale_after is not None and head.stale_after < now
        if head.not_before <= now or stale:
            lane.now |= stale or not (await place((head.tryout_id, head.to))).waits
        else:
            later.append(head.not_before)
    for card in await live_messages.open_cards(db):
        lane = work[card.tryout_id, card.to]
        lane.order = min(lane.order, (1, card.id))
        lane.facts.append((card.id, card.stale, card.posts, card.pin_open, card.old_message_id, card.claimed_at))
        lane.facts.append((card.shown, card.edited_at))
        rested = rest_of(card)
        if rested is not None and rested > now:
            later.append(rested)
        elif not (await place((card.tryout_id, card.to))).waits:
            lane.now = True
    for room in await rooms.rooms(db):
        if room_work(room, await place((room.tryout_id, f"squad/{room.squad_id}")) if _bare(room) else None):
            lane = work[room.tryout_id, f"squad/{room.squad_id}"]
            lane.facts.append(room)
            lane.now = True
    ready = sorted((lane for lane in work if work[lane].now), key=lambda lane: (work[lane].order, lane))
    return Survey({lane: repr(work[lane].facts) for lane in ready}, min(later, default=None))


def rest_of(card: Card) -> datetime | None:
    """Until when a living message is left alone, so that changes that come in a burst are shown together."""
    return None if card.edited_at is None else card.edited_at + EDIT_PAUSE


def room_work(room: Room, place: Place | None) -> bool:
    """Whether a squad's room is to be opened, filled, emptied, renamed or put away."""
    if room.room_id is None:
        return place is not None and place.opening == "private"
    if room.withdrawn:
        return bool(room.seats_open) or not room.room_closed
    return bool(room.seats_open) or room.room_name != squad_room_name(room.number, room.name)


def _bare(room: Room) -> bool:
    return room.room_id is None and not room.withdrawn
