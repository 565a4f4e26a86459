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

_STYLES = {
    "main": discord.ButtonStyle.primary,
    "plain": discord.ButtonStyle.secondary,
    "good": discord.ButtonStyle.success,
    "danger": discord.ButtonStyle.danger,
}


def message_kwargs(message: Message, editing: bool = False) -> dict[str, Any]:
    """The arguments with which the chat library sends a message or answers an interaction.

    `editing` gives those that change a message: buttons and files the new message lacks are then taken away.
    To be called while the event loop runs.
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


def modal(form: Form) -> ui.Modal:
    """The chat library's form, filled with what is known. To be called while the event loop runs."""
    opened = ui.Modal(title=form.title, custom_id=form.key, timeout=None)
    for field in form.fields:
        opened.add_item(ui.Label(text=field.label, description=field.hint or None, component=_input(field)))
    opened.stop()
    return opened


def _mentions(message: Message) -> discord.AllowedMentions:
    """Nobody is mentioned but those whom the message means to ring."""
    if not message.ping:
        return discord.AllowedMentions.none()
    people = [discord.Object(person) for person in message.ping]
    return discord.AllowedMentions(everyone=False, roles=False, replied_user=False, users=people)


def _file(attachment: Attachment) -> discord.File:
    return discord.File(io.BytesIO(attachment.data), filename=attachment.name, description=attachment.alt or None)


def _view(rows: tuple[Row, ...]) -> ui.View:
    view = ui.View(timeout=None)
    for number, row in enumerate(rows):
        for part in row if isinstance(row, tuple) else (row,):
            view.add_item(_part(part, number))
    view.stop()
    return view


def _part(part: Button | Select | PersonSelect | RoomSelect, row: int) -> ui.Item[ui.View]:
    match part:
        case Button():
            return ui.Button(
                custom_id=part.key, label=part.label, style=_STYLES[part.style], disabled=part.disabled, row=row
            )
        case Select():
            return ui.Select(
                custom_id=part.key,
                placeholder=part.prompt,
                options=_options(part),
                min_values=part.least,
                max_values=part.most,
                row=row,
            )
        case PersonSelect():
            return ui.UserSelect(custom_id=part.key, placeholder=part.prompt, max_values=part.most, row=row)
        case RoomSelect():
            chosen = (
                []
                if part.chosen is None
                else [discord.SelectDefaultValue(id=part.chosen, type=discord.SelectDefaultValueType.channel)]
            )
            return ui.ChannelSelect(
                custom_id=part.key,
                placeholder=part.prompt,
                channel_types=[discord.ChannelType.text],
                default_values=chosen,
                row=row,
            )
    assert_never(part)


def _within(value: str, most: int) -> str:
    """What stands in a field from the beginning: the platform opens no form in which it is longer than may be typed."""
    return value if units(value) <= most else cut(value, most)


def _input(field: FormField) -> ui.Item[Any]:
    match field:
        case TextField():
            return ui.TextInput(
                custom_id=field.key,
                style=discord.TextStyle.paragraph if field.long else discord.TextStyle.short,
                default=_within(field.value, field.most) or None,
                placeholder=field.example or None,
                min_length=field.least,
                max_length=field.most,
                required=field.required,
            )
        case RadioField():
            options = [
                discord.RadioGroupOption(
                    label=choice.label, value=choice.value, description=choice.note or None, default=choice.chosen
                )
                for choice in field.choices
            ]
            return ui.RadioGroup(custom_id=field.key, options=options, required=field.required)
        case SelectField():
            return ui.Select(
                custom_id=field.key,
                options=_options(field),
                min_values=field.least,
                max_values=field.most,
                required=field.required,
            )
        case FileField():
            return ui.FileUpload(
                custom_id=field.key,
                min_values=1 if field.required else 0,
                max_values=field.most,
                required=field.required,
            )
    assert_never(field)


def _options(field: Select | SelectField) -> list[discord.SelectOption]:
    return [
        discord.SelectOption(
            label=choice.label, value=choice.value, description=choice.note or None, default=choice.chosen
        )
        for choice in field.choices
    ]
