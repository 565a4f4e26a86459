"""What a message or a form looks like to a person: texts, buttons, selects, files, in reading order."""

from __future__ import annotations

import re
from dataclasses import dataclass

from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.components import (
    BUTTON,
    LINK,
    SELECTS,
    STRING_SELECT,
    flat,
)
from deploy.rehearsal.world.state import Drawn, File, Message, Person, World

STYLES = {1: "primary", 2: "secondary", 3: "success", 4: "danger", 5: "link", 6: "premium"}
KINDS = {3: "options", 5: "people", 8: "channels"}


@dataclass(frozen=True)
class Button:
    """A button as it stands under a message."""

    label: str
    emoji: str
    style: str
    custom_id: str
    disabled: bool
    url: str
    component_id: int


@dataclass(frozen=True)
class Option:
    """One line of a select, a radio group or a checkbox group."""

    label: str
    value: str
    description: str
    chosen: bool


@dataclass(frozen=True)
class Select:
    """A select under a message; `placeholder` is the text it shows while nothing is chosen."""

    placeholder: str
    kind: str
    custom_id: str
    options: tuple[Option, ...]
    least: int
    most: int
    disabled: bool
    component_id: int
    component_type: int


@dataclass(frozen=True)
class Shown:
    """A message as one person sees it now; the phone keeps it, and it stays as it was when the message changes."""

    message_id: int
    room_id: int
    author: str
    blocks: tuple[str | Button | Select | File, ...]
    private: bool
    loading: bool
    pinned: bool
    edited: bool
    pinged: bool
    flags: int
    components: tuple[Json, ...]

    @property
    def text(self) -> str:
        """All texts from top to bottom, one per line."""
        return "\n".join(block for block in self.blocks if isinstance(block, str))

    @property
    def title(self) -> str:
        """The first line of the text, shortened to a heading."""
        line = next((line.strip() for line in self.text.splitlines() if line.strip()), "")
        return line if len(line) <= 80 else f"{line[:79].rstrip()}…"

    @property
    def buttons(self) -> tuple[Button, ...]:
        """All buttons in reading order."""
        return tuple(block for block in self.blocks if isinstance(block, Button))

    @property
    def selects(self) -> tuple[Select, ...]:
        """All selects in reading order."""
        return tuple(block for block in self.blocks if isinstance(block, Select))

    @property
    def files(self) -> tuple[File, ...]:
        """All attached files, pictures among them."""
        return tuple(block for block in self.blocks if isinstance(block, File))

    @property
    def labels(self) -> tuple[str, ...]:
        """The labels of the buttons that can be pressed."""
        return tuple(button.label for button in self.buttons if not button.disabled)


def show(world: World, message: Message, viewer: int) -> Shown:
    """Render `message` for the person with the id `viewer`."""
    names = Names(world)
    blocks: list[str | Button | Select | File] = []
    if message.content:
        blocks.append(names.plain(message.content))
    blocks += _drawn(world, message, names)
    blocks += message.files
    return Shown(
        message.id,
        message.room_id,
        world.people[message.author_id].name,
        tuple(blocks),
        private=message.only_for is not None,
        loading=bool(message.flags & 128),
        pinned=message.pinned,
        edited=message.edited is not None,
        pinged=viewer in world.people and is_pinged(message, world.people[viewer]),
        flags=message.flags,
        components=tuple(message.components),
    )


def _drawn(world: World, message: Message, names: Names) -> tuple[Button | Select, ...]:
    """Return the buttons and selects of a message, drawn anew only where it has others or they name somebody."""
    known = world.drawn.get(message.id)
    if known is not None and known.components is message.components:
        return known.blocks
    components = flat(message.components)
    blocks = tuple(
        button_of(component) if component["type"] == BUTTON else select_of(component, names)
        for component in components
        if component["type"] == BUTTON or component["type"] in SELECTS
    )
    if not any("default_values" in component for component in components):
        world.drawn[message.id] = Drawn(message.components, blocks)
    return blocks


def is_pinged(message: Message, person: Person) -> bool:
    """Whether this message rings the phone of `person`, by name, by role or as everyone."""
    by_role = any(role in message.mention_roles for role in person.roles)
    return person.id in message.mentions or message.mention_everyone or by_role


class Names:
    """Writes mentions as the names that people read."""

    def __init__(self, world: World) -> None:
        self._world = world

    def plain(self, text: str) -> str:
        """Replace mentions of people, roles, rooms and commands by their names; times stay as they are."""
        if "<" not in text:
            return text
        text = re.sub(r"<@!?(\d+)>", lambda match: f"@{self._person(int(match[1]))}", text)
        text = re.sub(r"<@&(\d+)>", lambda match: f"@{self._role(int(match[1]))}", text)
        text = re.sub(r"<#(\d+)>", lambda match: f"#{self._room(int(match[1]))}", text)
        return re.sub(r"<(/[^:>]+):\d+>", r"\1", text)

    def of(self, value: Json) -> str:
        """Return the name of what a select of people or channels has picked beforehand."""
        find = {"user": self._person, "channel": self._room}
        return find[value["type"]](int(value["id"]))

    def _person(self, person_id: int) -> str:
        person = self._world.people.get(person_id)
        return person.name if person else "unknown-user"

    def _role(self, role_id: int) -> str:
        role = self._world.roles.get(role_id)
        return role.name if role else "unknown-role"

    def _room(self, room_id: int) -> str:
        room = self._world.rooms.get(room_id)
        return room.name if room else "unknown"


def button_of(component: Json) -> Button:
    """Render a button component."""
    emoji = (component.get("emoji") or {}).get("name") or ""
    return Button(
        component.get("label") or emoji,
        emoji,
        STYLES[component["style"]],
        component.get("custom_id") or "",
        bool(component.get("disabled")),
        (component.get("url") or "") if component["style"] == LINK else "",
        component["id"],
    )


def select_of(component: Json, names: Names) -> Select:
    """Render a select component of any kind."""
    options = tuple(option_of(option) for option in component.get("options") or [])
    picked = [names.of(value) for value in component.get("default_values") or []]
    options += tuple(Option(name, "", "", chosen=True) for name in picked)
    default_text = "Make a selection" if component["type"] == STRING_SELECT else KINDS[component["type"]]
    least, most = component.get("min_values"), component.get("max_values")
    return Select(
        component.get("placeholder") or default_text,
        KINDS[component["type"]],
        component["custom_id"],
        options,
        1 if least is None else least,
        1 if most is None else most,
        bool(component.get("disabled")),
        component["id"],
        component["type"],
    )


def option_of(option: Json) -> Option:
    """Render one option."""
    return Option(option["label"], option["value"], option.get("description") or "", bool(option.get("default")))
