"""Filling in a form: checking as the phone does, and writing the answers as they travel."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from deploy.rehearsal.phones.select_values import Chosen, chosen_values, uploaded
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.wire.forms import Field, Form
from deploy.rehearsal.wire.interaction_events import Resolved
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.components import LABEL, ROW
from deploy.rehearsal.world.state import Room, World


@dataclass
class Sheet:
    """A filled-in form: its components as sent, what they refer to, and what a person would read."""

    components: list[Json] = field(default_factory=list)
    resolved: Resolved = field(default_factory=Resolved)
    read: dict[str, Any] = field(default_factory=dict)


def filled(world: World, form: Form, values: Mapping[str, Any], room: Room) -> Sheet:
    """Fill in `form` by label, or by `place_of` a field; raises `CastMistake` for what is not there or would not go."""
    labels = [item.label for item in form.fields]
    unknown = [name for name in values if name not in labels and name not in map(place_of, form.fields)]
    if unknown:
        raise CastMistake(f"the form {form.title!r} has no {unknown}; it has {labels}")
    sheet = Sheet()
    answers: dict[int, Json] = {}
    for item in form.fields:
        answers[item.wrapper["id"]] = _answer(
            world, item, values.get(place_of(item), values.get(item.label)), room, sheet
        )
    for part in form.components:
        answer = answers.get(part["id"])
        shape: Json = {"type": part["type"], "id": part["id"]}
        if answer is not None and part["type"] == LABEL:
            shape["component"] = answer
        elif answer is not None and part["type"] == ROW:
            shape["components"] = [answer]
        sheet.components.append(shape)
    return sheet


def named(form: Form, item: Field) -> str:
    """The label of a field, where no other field of the form has it; else what tells it from the others."""
    return item.label if [one.label for one in form.fields].count(item.label) == 1 else place_of(item)


def place_of(item: Field) -> str:
    """What tells a field from another one of the same label."""
    return str(item.wire.get("custom_id", item.label))


def _answer(world: World, item: Field, given: Any, room: Room, sheet: Sheet) -> Json:
    wire: Json = {"type": item.wire["type"], "id": item.wire["id"], "custom_id": item.wire["custom_id"]}
    if item.kind == "text":
        text = item.value if given is None else given
        _check_text(item, text)
        sheet.read[item.label] = text
        return wire | {"value": text}
    if item.kind == "checkbox":
        ticked = bool(item.wire.get("default")) if given is None else bool(given)
        sheet.read[item.label] = ticked
        return wire | {"value": ticked}
    chosen = _chosen(world, item, given, room)
    _check_choice(item, chosen)
    sheet.resolved.add(chosen.resolved)
    if item.kind == "radio":
        sheet.read[item.label] = chosen.names[0] if chosen.names else None
        return wire | {"value": chosen.values[0] if chosen.values else None}
    sheet.read[item.label] = chosen.names
    return wire | {"values": chosen.values}


def _chosen(world: World, item: Field, given: Any, room: Room) -> Chosen:
    if item.kind == "files":
        chosen = Chosen()
        pairs = [given] if isinstance(given, tuple) else given or []
        for name, data in pairs:
            file = uploaded(world, room, name, data)
            chosen.values.append(str(file.id))
            chosen.names.append(name)
            chosen.resolved.files.append(file)
        return chosen
    if given is not None:
        return chosen_values(world, item.kind, item.options, given)
    defaults = [option.label for option in item.options if option.chosen]
    if item.options:
        return chosen_values(world, item.kind, item.options, defaults)
    known: dict[int, Any] = {**world.people, **world.rooms}
    kept = [known[int(value["id"])] for value in item.wire.get("default_values") or []]
    return chosen_values(world, item.kind, (), kept)


def _check_text(item: Field, text: Any) -> None:
    if not isinstance(text, str):
        raise CastMistake(f"{item.label!r} takes a text, not {text!r}")
    if item.required and not text:
        raise CastMistake(f"{item.label!r} must be filled in")
    if text and not item.least <= len(text) <= item.most:
        raise CastMistake(f"{item.label!r} takes {item.least} to {item.most} characters, not {len(text)}")
    if "\n" in text and not item.long:
        raise CastMistake(f"{item.label!r} is a single line")


def _check_choice(item: Field, chosen: Chosen) -> None:
    if not chosen.values and not item.required:
        return
    chosen.check_count(item.label, max(item.least, 1) if item.required else item.least, item.most)
