"""Limits of a form (modal) and of what may sit in it, by the component reference of the public API."""

from __future__ import annotations

from typing import Any

from deploy.rehearsal.limits.component_limits import check_options, check_select, check_unique_ids
from deploy.rehearsal.limits.field_checks import FieldChecks, Place
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

IN_LABEL = (TEXT_INPUT, *SELECTS, FILE_UPLOAD, RADIO_GROUP, CHECKBOX_GROUP, CHECKBOX)


def check_form(data: Json) -> None:
    """Raise `Refused` (50035) if the platform would not open this form; at most 5 parts, as the docs say."""
    checks = FieldChecks()
    place: Place = ("data",)
    checks.text(data, "title", place, least=1, most=45, required=True)
    checks.text(data, "custom_id", place, least=1, most=100, required=True)
    components = checks.items(data, "components", place, least=1, most=5, required=True)
    for index, component in enumerate(components):
        _check_part(checks, component, (*place, "components", index))
    check_unique_ids(checks, components)
    checks.raise_problems()


def _check_part(checks: FieldChecks, part: Any, place: Place) -> None:
    kind = part.get("type") if isinstance(part, dict) else None
    if kind == TEXT:
        checks.text(part, "content", place, least=1, most=4000, required=True)
    elif kind == LABEL:
        checks.text(part, "label", place, least=1, most=45, required=True)
        checks.text(part, "description", place, least=1, most=100)
        _check_input(checks, part.get("component"), (*place, "component"))
    elif kind == ROW:
        children = checks.items(part, "components", place, least=1, most=1, required=True)
        for index, child in enumerate(children):
            here = (*place, "components", index)
            if not isinstance(child, dict) or child.get("type") != TEXT_INPUT:
                checks.choice((*here, "type"), "Value must be one of {4}.")
            else:
                checks.text(child, "label", here, least=1, most=45, required=True)
                _check_input(checks, child, here)
    else:
        checks.choice((*place, "type"), "Value must be one of {1, 10, 18}.")


def _check_input(checks: FieldChecks, item: Any, place: Place) -> None:
    if not isinstance(item, dict) or item.get("type") not in IN_LABEL:
        checks.choice((*place, "type"), f"Value must be one of {{{', '.join(map(str, IN_LABEL))}}}.")
        return
    kind = item["type"]
    if kind in SELECTS:
        check_select(checks, item, place, in_form=True)
        return
    checks.text(item, "custom_id", place, least=1, most=100, required=True)
    if kind == TEXT_INPUT:
        _check_text_input(checks, item, place)
    elif kind == RADIO_GROUP:
        options = checks.items(item, "options", place, least=2, most=10, required=True)
        check_options(checks, options, (*place, "options"), chosen_most=1)
    elif kind == CHECKBOX_GROUP:
        options = checks.items(item, "options", place, least=1, most=10, required=True)
        checks.number(item, "min_values", place, least=0, most=10)
        most = checks.number(item, "max_values", place, least=1, most=10)
        check_options(checks, options, (*place, "options"), chosen_most=most or max(1, len(options)))
    elif kind == FILE_UPLOAD:
        checks.number(item, "min_values", place, least=0, most=10)
        checks.number(item, "max_values", place, least=1, most=10)
    elif kind == CHECKBOX and item.get("required"):
        checks.flag((*place, "required"), "CHECKBOX_CANNOT_BE_REQUIRED", "A lone checkbox cannot be required.")


def _check_text_input(checks: FieldChecks, item: Json, place: Place) -> None:
    checks.one_of(item, "style", place, (1, 2), required=True)
    checks.text(item, "placeholder", place, most=100)
    value = checks.text(item, "value", place, most=4000)
    least = checks.number(item, "min_length", place, least=0, most=4000)
    most = checks.number(item, "max_length", place, least=1, most=4000)
    if least is not None and most is not None and least > most:
        checks.flag((*place, "min_length"), "TEXT_INPUT_MIN_LENGTH_EXCEEDS_MAX", "min_length is above max_length")
    if value is not None and most is not None and len(value) > most:
        checks.flag((*place, "value"), "BASE_TYPE_MAX_LENGTH", f"Must be {most} or fewer in length.")
