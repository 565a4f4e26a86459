"""From our messages and forms to those of the chat library.

The library never routes a press or a form for us: its table of views lives in memory, and what it holds is dead after
a restart. Every view and form is therefore handed over already finished, which the library sends and does not keep.
"""

import io
from typing import Any, assert_never

import discord
from discord import ui

from bot.words.core.plain_text import cut, units
from storage.records.message import (
    Attachment,
    Button,
    FileField,
    Form,
    FormField,
    Message,
    PersonSelect,
    RadioField,
    RoomSelect,
    Row,
    Select,
    SelectField,
    TextField,
)

ROW, BUTTON, SELECT, TEXT, PEOPLE, ROOMS, LABEL, FILES, RADIO = 1, 2, 3, 4, 5, 8, 18, 19, 21
"""Types of components, by the platform's page on them; as are the names of their fields below."""
STYLES = {"main": 1, "plain": 2, "good": 3, "danger": 4}
LINE, PARAGRAPH = 1, 2

Json = dict[str, Any]


class FinishedView(ui.View):
    """Buttons and lists as the platform takes them: the library sends them, and neither keeps nor looks through them.

    What it would make of each part takes longer than the whole answer does.
    """

    def __init__(self, components: list[Json]) -> None:
        # Nothing of the library's own: that is for views which wait for presses.
        self._components = components

    def to_components(self) -> list[Json]:
        """What goes over the wire."""
        return self._components

    def has_components_v2(self) -> bool:
        """Never: our messages are text with rows below."""
        return False

    def is_finished(self) -> bool:
        """Always: presses come to the router."""
        return True


class FinishedModal(ui.Modal):
    """A form as the platform takes it."""

    def __init__(self, form: Form) -> None:
        self.title = form.title
        self._form: Json = {"custom_id": form.key, "title": form.title, "components": [*map(_labelled, form.fields)]}

    def to_dict(self) -> Json:
        """What goes over the wire."""
        return self._form

    def is_finished(self) -> bool:
        """Always: what is sent comes to the router."""
        return True


def message_kwargs(message: Message, editing: bool = False) -> dict[str, Any]:
    """The arguments with which the chat library sends a message or answers an interaction.

    `editing` gives those that change a message: buttons and files the new message lacks are then taken away.
    """
    made: dict[str, Any] = {"content": message.text, "allowed_mentions": _mentions(message)}
    files = [_file(attachment) for attachment in message.files]
    if editing:
        made |= {"view": _view(message.rows) if message.rows else None, "attachments": files}
        return made
    if message.rows:
        made["view"] = _view(message.rows)
    if files:
        made["files"] = files
    return made


def modal(form: Form) -> FinishedModal:
    """The chat library's form, filled with what is known."""
    return FinishedModal(form)


def _mentions(message: Message) -> discord.AllowedMentions:
    """Nobody is mentioned but those whom the message means to ring."""
    if not message.ping:
        return discord.AllowedMentions.none()
    people = [discord.Object(person) for person in message.ping]
    return discord.AllowedMentions(everyone=False, roles=False, replied_user=False, users=people)


def _file(attachment: Attachment) -> discord.File:
    return discord.File(io.BytesIO(attachment.data), filename=attachment.name, description=attachment.alt or None)


def _view(rows: tuple[Row, ...]) -> FinishedView:
    return FinishedView(
        [{"type": ROW, "components": [*map(_button, row)] if isinstance(row, tuple) else [_list(row)]} for row in rows]
    )


def _button(part: Button) -> Json:
    return {
        "type": BUTTON, "style": STYLES[part.style], "label": part.label, "disabled": part.disabled,
        "custom_id": part.key,
    }  # fmt: skip


def _list(part: Select | PersonSelect | RoomSelect) -> Json:
    made: Json = {"custom_id": part.key, "placeholder": part.prompt, "disabled": False}
    match part:
        case Select():
            made |= {"type": SELECT, "min_values": part.least, "max_values": part.most, "options": _options(part)}
        case PersonSelect():
            made |= {"type": PEOPLE, "min_values": 1, "max_values": part.most}
        case RoomSelect():
            made |= {"type": ROOMS, "min_values": 1, "max_values": 1, "channel_types": [*part.types]}
            if part.chosen is not None:
                made["default_values"] = [{"id": part.chosen, "type": "channel"}]
        case _:
            assert_never(part)
    return made


def _labelled(field: FormField) -> Json:
    made: Json = {"type": LABEL, "label": field.label, "component": _input(field)}
    if field.hint:
        made["description"] = field.hint
    return made


def _within(value: str, most: int) -> str:
    """What stands in a field from the beginning: the platform opens no form in which it is longer than may be typed."""
    return value if units(value) <= most else cut(value, most)


def _input(field: FormField) -> Json:
    made: Json = {"custom_id": field.key, "required": field.required}
    match field:
        case TextField():
            made |= {"type": TEXT, "style": PARAGRAPH if field.long else LINE, "max_length": field.most}
            known = {
                "value": _within(field.value, field.most), "placeholder": field.example, "min_length": field.least
            }  # fmt: skip
            made |= {name: value for name, value in known.items() if value}
        case RadioField():
            made |= {"type": RADIO, "options": _options(field)}
        case SelectField():
            made |= {"type": SELECT, "min_values": field.least, "max_values": field.most, "options": _options(field)}
        case FileField():
            made |= {"type": FILES, "min_values": 1 if field.required else 0, "max_values": field.most}
        case _:
            assert_never(field)
    return made


def _options(field: Select | SelectField | RadioField) -> list[Json]:
    return [
        {
            "label": choice.label, "value": choice.value, "default": choice.chosen,
            **({"description": choice.note} if choice.note else {}),
        }
        for choice in field.choices
    ]  # fmt: skip
