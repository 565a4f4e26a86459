"""Where an address leads: a channel of the class server, a squad's private room, a judge's direct messages."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from bot.rules.delivery.destination import gets_messages, way_to
from bot.rules.delivery.private_rooms import BENEATH
from bot.words.delivery import room_names
from bot.words.delivery import undelivered as words
from storage.records.people import Squad
from storage.records.tryout import ROOM_KINDS
from storage.tables import judges, squads, tryouts
from storage.tables.sql_session import Snapshot


@dataclass(frozen=True)
class Destination:
    """What is known about an address at one moment."""

    tryout_id: int
    address: str
    label: str
    """How the coach knows it."""
    server_id: int = 0
    room_id: int | None = None
    """Where to post; None while the room is to be opened, or when nothing can be delivered."""
    opening: Literal["", "direct", "private"] = ""
    """What must be opened first: direct messages, or a private room."""
    parent_id: int = 0
    """The channel in which the private room is to be opened."""
    room_name: str = ""
    """What that room is to be called."""
    person: int = 0
    """The account for direct messages, or the one to be added to the private room."""
    judge_id: int = 0
    squad_id: int = 0
    direct: bool = False
    """Whether it is a direct message."""
    dead: str = ""
    """Why nothing will ever be delivered here: a key of `words.WHY`."""

    @property
    def waits(self) -> bool:
        """Whether nothing can be delivered for now, without anything being wrong."""
        return self.room_id is None and not self.opening and not self.dead

    @property
    def private(self) -> bool:
        """Whether it is a private room that we opened."""
        return bool(self.squad_id or self.judge_id) and not self.direct


async def destination_of(db: Snapshot, tryout_id: int, address: str) -> Destination:
    """Where an address leads now."""
    server_id, channels = await tryouts.channels_of(db, tryout_id)
    kind, _, number = address.partition("/")
    if kind in ROOM_KINDS and not number:
        room_id = channels.get(kind)
        return Destination(tryout_id, address, words.channel(kind, room_id), server_id, room_id)
    if kind == "squad" and number.isdecimal():
        return await _squad_room(db, tryout_id, int(number), server_id, channels.get(BENEATH))
    if kind == "judge" and number.isdecimal():
        return await _judge(db, tryout_id, int(number), server_id, channels.get(BENEATH))
    return Destination(tryout_id, address, address, server_id, dead="nowhere")


async def destinations_of(db: Snapshot, lanes: Iterable[tuple[int, str]]) -> dict[tuple[int, str], Destination]:
    """Where addresses lead, each with its try-out; those of all squads together in two steps."""
    wanted = set(lanes)
    numbers = [address.removeprefix("squad/") for _, address in wanted if address.startswith("squad/")]
    found = await squads.by_ids(db, (int(number) for number in numbers if number.isdecimal()))
    running = await tryouts.channels_of_running(db) if found else {}
    squad_rooms = [
        _of_squad(squad, running[squad.tryout_id].server_id, running[squad.tryout_id].by_kind.get(BENEATH))
        for squad in found
        if squad.tryout_id in running
    ]
    known = {(one.tryout_id, one.address): one for one in squad_rooms if (one.tryout_id, one.address) in wanted}
    return known | {lane: await destination_of(db, *lane) for lane in wanted if lane not in known}


async def _squad_room(
    db: Snapshot, tryout_id: int, squad_id: int, server_id: int, parent_id: int | None
) -> Destination:
    address, squad = f"squad/{squad_id}", await squads.squad(db, squad_id)
    if squad is None or squad.tryout_id != tryout_id:
        return Destination(tryout_id, address, address, server_id, dead="nowhere")
    return _of_squad(squad, server_id, parent_id)


def _of_squad(squad: Squad, server_id: int, parent_id: int | None) -> Destination:
    gets = gets_messages(squad)
    return Destination(
        squad.tryout_id,
        f"squad/{squad.id}",
        words.squad(squad.number, squad.name),
        server_id,
        room_id=squad.room_id if gets else None,
        opening="private" if squad.room_id is None and parent_id and gets else "",
        parent_id=parent_id or 0,
        room_name=room_names.squad_room_name(squad.number, squad.name),
        squad_id=squad.id,
        dead="" if gets else "withdrawn",
    )


async def _judge(db: Snapshot, tryout_id: int, judge_id: int, server_id: int, parent_id: int | None) -> Destination:
    address, judge = f"judge/{judge_id}", await judges.judge(db, judge_id)
    if judge is None or judge.tryout_id != tryout_id:
        return Destination(tryout_id, address, address, server_id, dead="nowhere")
    label = words.judge(judge.name)
    way = way_to(judge)
    if way == "gone":
        return Destination(tryout_id, address, label, server_id, judge_id=judge_id, dead="removed")
    if way == "unasked":
        return Destination(tryout_id, address, label, server_id, judge_id=judge_id)
    closed = way == "room"
    room_id = judge.room_id if closed else judge.direct_id
    opening: Literal["", "direct", "private"] = ""
    if room_id is None:
        opening = "direct" if not closed else "private" if parent_id else ""
    return Destination(
        tryout_id,
        address,
        label,
        server_id,
        room_id=room_id,
        opening=opening,
        parent_id=parent_id or 0,
        room_name=room_names.judge_room_name(judge.name),
        person=judge.platform_id,
        judge_id=judge_id,
        direct=not closed,
    )
