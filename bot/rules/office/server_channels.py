"""The channels of a class server: which is not for the office, and what the bot asks to be allowed in each."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.request import Room
from storage.records.tryout import RoomKind

PERMISSIONS = 2252143411186688
"""What the invite asks for, and nothing more: see channels, send messages, embed links, attach files, read message
history, create private threads, send messages in threads, pin messages."""
_POST = ("view_channel", "send_messages", "embed_links", "attach_files", "read_message_history")
NEEDS: dict[RoomKind, tuple[str, ...]] = {
    "signup": (*_POST, "pin_messages"),
    "news": _POST,
    "squads": (
        "view_channel",
        "read_message_history",
        "create_private_threads",
        "send_messages_in_threads",
        "embed_links",
        "attach_files",
    ),
    "office": _POST,
}
"""Permissions by their platform names; squads' private rooms are private threads of the squads channel."""
NEEDED = tuple(dict.fromkeys(name for names in NEEDS.values() for name in names))
"""All that is needed in one room or another."""


def missing_in(kind: RoomKind, room: Room) -> tuple[str, ...]:
    """The permissions that the bot lacks to use a room for a purpose."""
    return tuple(name for name in NEEDS[kind] if name in room.missing)


def check_office(kind: RoomKind, room: Room, rooms: dict[RoomKind, int]) -> None:
    """What is told to the coach must not be read by the class.

    Raises:
        Refusal: `office_seen` (room) or `office_shared` (room).
    """
    others = {room_id for other, room_id in rooms.items() if (other == "office") != (kind == "office")}
    if room.id in others:
        raise Refusal(Reason.OFFICE_SHARED, room=room.id)
    if kind == "office" and room.seen_by_all:
        raise Refusal(Reason.OFFICE_SEEN, room=room.id)
