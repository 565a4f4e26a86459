"""Forms (modals) as they open on a person's phone, and the answers as they travel back."""

from __future__ import annotations

from dataclasses import dataclass

from deploy.rehearsal.wire.rendering import KINDS, Names, Option, option_of
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.components import (
    CHECKBOX,
    CHECKBOX_GROUP,
    FILE_UPLOAD,
    LABEL,
    RADIO_GROUP,
    ROW,
    SELECTS,
    TEXT,
    TEXT_INPUT,
)

INPUT_KINDS = {
    TEXT_INPUT: "text",
    RADIO_GROUP: "radio",
    CHECKBOX_GROUP: "checkboxes",
    CHECKBOX: "checkbox",
    FILE_UPLOAD: "files",
}


@dataclass(frozen=True)
class Field:
    """One thing to fill in: a text, a choice, a tick or files."""

    label: str
    description: str
    kind: str
    required: bool
    value: str
    placeholder: str
    long: bool
    least: int
    most: int
    options: tuple[Option, ...]
    wire: Json
    wrapper: Json


@dataclass(frozen=True)
class Form:
    """A form opened for one person; it can be sent again if sending failed."""

    title: str
    custom_id: str
    notes: tuple[str, ...]
    fields: tuple[Field, ...]
    person_id: int
    room_id: int
    message_id: int | None
    opened_by: Json
    components: tuple[Json, ...]

    def field(self, label: str) -> Field | None:
        """Find a field by the label a person reads."""
        return next((field for field in self.fields if field.label == label), None)


def open_form(
    data: Json,
    components: list[Json],
    names: Names,
    *,
    person_id: int,
    room_id: int,
    message_id: int | None,
    opened_by: Json,
) -> Form:
    """Render a modal; `components` is its numbered tree, `opened_by` the metadata of the interaction behind it."""
    notes = tuple(names.plain(part["content"]) for part in components if part["type"] == TEXT)
    fields: list[Field] = []
    for part in components:
        if part["type"] == LABEL:
            fields.append(_field(part["label"], part.get("description") or "", part["component"], part))
        elif part["type"] == ROW:
            item = part["components"][0]
            fields.append(_field(item.get("label") or "", "", item, part))
    return Form(
        data["title"],
        data["custom_id"],
        notes,
        tuple(fields),
        person_id,
        room_id,
        message_id,
        opened_by,
        tuple(components),
    )


def _field(label: str, description: str, item: Json, wrapper: Json) -> Field:
    kind = item["type"]
    options = tuple(option_of(option) for option in item.get("options") or [])
    least, most = _range(item, options)
    return Field(
        label,
        description,
        INPUT_KINDS.get(kind) or KINDS[kind],
        _required(item),
        item.get("value") or "",
        item.get("placeholder") or "",
        kind == TEXT_INPUT and item.get("style") == 2,
        least,
        most,
        options,
        item,
        wrapper,
    )


def _required(item: Json) -> bool:
    if item["type"] == CHECKBOX:
        return False
    required = item.get("required")
    return True if required is None else bool(required)


def _range(item: Json, options: tuple[Option, ...]) -> tuple[int, int]:
    """Return the least and most characters (text) or choices (everything else) a field takes."""
    kind = item["type"]
    if kind == TEXT_INPUT:
        least, most = item.get("min_length"), item.get("max_length")
        return least or 0, 4000 if most is None else most
    least, most = item.get("min_values"), item.get("max_values")
    if kind == CHECKBOX_GROUP:
        most = len(options) if most is None else most
    if kind in SELECTS or kind in (CHECKBOX_GROUP, FILE_UPLOAD):
        return 1 if least is None else least, 1 if most is None else most
    return (1 if _required(item) else 0), 1
