"""What one person sees, as plain data for the page; the page draws it and knows nothing else."""

from __future__ import annotations

from typing import Any

from deploy.rehearsal.limits.command_limits import BOOLEAN, INTEGER, NUMBER
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.slash_commands import OfferedCommand
from deploy.rehearsal.tryroom.break_buttons import CLOSED, DISK, NETWORK, POWER
from deploy.rehearsal.tryroom.playable_people import what
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.rendering import Button, Option, Select, Shown
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.permission_bits import SEND_MESSAGES, SEND_MESSAGES_IN_THREADS
from deploy.rehearsal.world.permissions import permissions_in
from deploy.rehearsal.world.state import DIRECT, DIRECT_MESSAGES, File, Message, Person, Room

AT_MOST = 80
"""So many messages of a room are shown, the newest; the page asks for more."""


def screen(room: TryRoom, person: Person, place: Room | None, *, most: int = AT_MOST) -> tuple[Json, dict[int, Shown]]:
    """Return what stands on somebody's phone with one room open, and the messages as they were shown."""
    phone = Phone(room.server, person)
    places = phone.places
    opened = place if place in places else next(iter(sorted(places, key=_own)), None)
    messages = [] if opened is None else _at_hand(room, phone, opened)
    if opened is not None and messages:
        read = room.read.setdefault(person.id, {})
        read[opened.id] = max(messages[-1].id, read.get(opened.id, 0))
    kept = messages[-most:]
    shown = {message.id: phone.shown(message) for message in kept}
    data: Json = {
        "now": room.now.isoformat(),
        "zone": room.script.zone,
        "me": {"id": str(person.id), "name": person.name, "what": what(room, person)},
        "rooms": [_room(room, phone, one) for one in sorted(places, key=_order)],
        "room": None if opened is None else _opened(room, phone, opened),
        "messages": [_message(room, message, shown[message.id]) for message in kept],
        "earlier": max(0, len(messages) - most),
        "moving": room.moving,
        "trouble": room.trouble,
        "breaks": sorted({POWER, NETWORK, DISK} | ({CLOSED} if _is_written_to(room, phone) else set())),
        "broken": sorted(room.broken | ({CLOSED} if not person.dms_open else set())),
    }
    return data, shown


def _at_hand(room: TryRoom, phone: Phone, place: Room) -> list[Message]:
    """The messages of a room that are on somebody's screen."""
    return [one for one in phone.messages(place) if not _is_old_answer(room, one)]


def _is_old_answer(room: TryRoom, message: Message) -> bool:
    """Whether it is a private answer of an earlier day: a phone that was put down over night shows it no more."""
    return message.only_for is not None and message.created.astimezone(room.zone).date() < room.now.date()


def _is_written_to(room: TryRoom, phone: Phone) -> bool:
    """Whether the bot writes to somebody in private: it does to judges, and to nobody else."""
    return phone.person.name in room.cast.judges or any(place.kind == DIRECT for place in phone.places)


def form_shown(form: Form, number: str) -> Json:
    """Return a form as the page opens it."""
    return {
        "id": number,
        "title": form.title,
        "notes": list(form.notes),
        "fields": [
            {
                "label": item.label,
                "description": item.description,
                "kind": item.kind,
                "required": item.required,
                "value": item.value,
                "placeholder": item.placeholder,
                "long": item.long,
                "least": item.least,
                "most": item.most,
                "options": [_option(option) for option in item.options],
                "ticked": bool(item.wire.get("default")),
            }
            for item in form.fields
        ],
    }


def _order(room: Room) -> tuple[int, int]:
    """Channels, then rooms of squads, then private messages."""
    return (2 if room.kind == DIRECT else 1 if room.is_thread else 0), room.id


def _own(room: Room) -> tuple[int, int]:
    """What is open at first: a small room such as the office, private messages, the squad's room, then the others."""
    return (0 if room.overwrites else 1 if room.kind == DIRECT else 2 if room.is_thread else 3), room.id


def room_name(room: Room) -> str:
    """What a room is called on a phone."""
    return DIRECT_MESSAGES if room.kind == DIRECT else room.name


def _room(room: TryRoom, phone: Phone, place: Room) -> Json:
    last = room.read.get(phone.person.id, {}).get(place.id, 0)
    unread = [one for one in _at_hand(room, phone, place) if one.id > last and one.author_id != phone.person.id]
    return {
        "id": str(place.id),
        "name": room_name(place),
        "unread": len(unread),
        "rung": any(phone.person.id in one.mentions for one in unread),
    }


def _opened(room: TryRoom, phone: Phone, place: Room) -> Json:
    speak = SEND_MESSAGES_IN_THREADS if place.is_thread else SEND_MESSAGES
    return {
        "id": str(place.id),
        "name": room_name(place),
        "may_write": bool(permissions_in(room.server.world, phone.person, place) & speak),
        "commands": [_command(command) for command in phone.command_list(place)],
    }


def _command(command: OfferedCommand) -> Json:
    kinds = {INTEGER: "whole", NUMBER: "number", BOOLEAN: "yes", 6: "people", 7: "channels", 11: "file"}
    return {
        "line": command.line,
        "description": command.description,
        "options": [
            {
                "name": option["name"],
                "description": option.get("description") or "",
                "kind": kinds.get(option["type"], "text"),
                "required": bool(option.get("required")),
                "choices": [choice["name"] for choice in option.get("choices") or []],
                "suggests": bool(option.get("autocomplete")),
            }
            for option in command.options
        ],
    }


def _message(room: TryRoom, message: Message, shown: Shown) -> Json:
    return {
        "id": str(message.id),
        "at": message.created.isoformat(),
        "who": shown.author,
        "own": message.author_id != room.server.world.bot.id,
        "private": shown.private,
        "pinned": shown.pinned,
        "edited": shown.edited,
        "rung": shown.pinged,
        "loading": shown.loading,
        "blocks": [_block(room, block) for block in shown.blocks],
    }


def _block(room: TryRoom, block: str | Button | Select | File) -> Json:
    if isinstance(block, str):
        return {"text": block}
    if isinstance(block, Button):
        return {
            "button": block.label,
            "emoji": block.emoji,
            "style": block.style,
            "disabled": block.disabled,
            "url": block.url,
            "id": block.custom_id,
        }
    if isinstance(block, Select):
        return {
            "select": block.placeholder,
            "kind": block.kind,
            "options": [_option(option) for option in block.options],
            "least": block.least,
            "most": block.most,
            "disabled": block.disabled,
            "id": block.custom_id,
        }
    return {
        "file": block.name,
        "type": block.content_type,
        "description": block.description or "",
        "url": f"file/{block.id}",
        "size": len(block.data),
    }


def _option(option: Option) -> dict[str, Any]:
    return {"label": option.label, "description": option.description, "chosen": option.chosen}
