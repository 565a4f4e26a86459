"""Limits of the components a message may carry, by the component reference of the public API."""

from __future__ import annotations

from typing import Any

from deploy.rehearsal.limits.field_checks import FieldChecks, Place
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.components import (
    BUTTON,
    CHANNEL_SELECT,
    LINK,
    ROW,
    SELECTS,
    STRING_SELECT,
    USER_SELECT,
    flat,
    walk,
)


def check_message_components(checks: FieldChecks, components: list[Any]) -> None:
    """Note everything about the rows under a message that the platform would not take."""
    for index, component in enumerate(components):
        place: Place = ("components", index)
        if not isinstance(component, dict):
            checks.flag(place, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
        elif component.get("type") != ROW:
            checks.choice((*place, "type"), f"Value must be one of {{{ROW}}}.")
        else:
            _check_row(checks, component, place)
    check_unique_ids(checks, components)


def check_unique_ids(checks: FieldChecks, components: list[Any]) -> None:
    """Note custom ids and numeric ids that occur twice."""
    every = flat(components)
    for key in ("custom_id", "id"):
        values = [component[key] for component in every if component.get(key)]
        if len(set(values)) == len(values):
            continue
        seen: set[Any] = set()
        for place, component in walk(components):
            value = component.get(key)
            if not value:
                continue
            if value in seen:
                code = "COMPONENT_CUSTOM_ID_DUPLICATED" if key == "custom_id" else "COMPONENT_ID_DUPLICATED"
                checks.flag((*place, key), code, f"Component {key} cannot be duplicated")
            seen.add(value)


def _check_row(checks: FieldChecks, row: Json, place: Place) -> None:
    children = checks.items(row, "components", place, least=1, most=5, required=True)
    kinds = [child.get("type") for child in children if isinstance(child, dict)]
    if any(kind in SELECTS for kind in kinds) and len(kinds) > 1:
        message = "The specified component exceeds the maximum width"
        checks.flag((*place, "components"), "COMPONENT_LAYOUT_WIDTH_EXCEEDED", message)
    for index, child in enumerate(children):
        here = (*place, "components", index)
        if not isinstance(child, dict) or child.get("type") not in (BUTTON, *SELECTS):
            checks.choice((*here, "type"), "Value must be one of {2, 3, 5, 8}.")
        elif child["type"] == BUTTON:
            check_button(checks, child, here)
        else:
            check_select(checks, child, here)


def check_button(checks: FieldChecks, button: Json, place: Place) -> None:
    """Note what is wrong with a button; it needs a label or an emoji, and an id or an address but not both."""
    checks.one_of(button, "style", place, (1, 2, 3, 4, 5, 6), required=True)
    label = checks.text(button, "label", place, most=80)
    if not label and not button.get("emoji"):
        checks.flag((*place, "label"), "BUTTON_COMPONENT_MISSING_LABEL", "A button needs a label or an emoji.")
    if button.get("style") == LINK:
        checks.text(button, "url", place, least=1, most=512, required=True)
        if button.get("custom_id"):
            message = "A custom id and url cannot both be specified"
            checks.flag(place, "BUTTON_COMPONENT_CUSTOM_ID_URL_MUTUALLY_EXCLUSIVE", message)
    else:
        checks.text(button, "custom_id", place, least=1, most=100, required=True)


def check_select(checks: FieldChecks, select: Json, place: Place, *, in_form: bool = False) -> None:
    """Note what is wrong with a select of any kind."""
    checks.text(select, "custom_id", place, least=1, most=100, required=True)
    checks.text(select, "placeholder", place, most=150)
    least = checks.number(select, "min_values", place, least=0, most=25)
    most = checks.number(select, "max_values", place, least=1, most=25)
    least, most = 1 if least is None else least, 1 if most is None else most
    if least > most:
        checks.flag((*place, "min_values"), "SELECT_COMPONENT_INVALID_MIN_VALUES", "min_values is above max_values")
    if in_form and select.get("disabled"):
        checks.flag((*place, "disabled"), "COMPONENT_DISABLED_IN_MODAL", "A select in a modal cannot be disabled.")
    if select.get("type") == STRING_SELECT:
        options = checks.items(select, "options", place, least=1, most=25, required=True)
        check_options(checks, options, (*place, "options"), chosen_most=most)
        if len(options) < least:
            checks.flag((*place, "options"), "SELECT_COMPONENT_TOO_FEW_OPTIONS", "fewer options than min_values")
    elif select.get("type") in (USER_SELECT, CHANNEL_SELECT):
        defaults = checks.items(select, "default_values", place, most=25)
        if defaults and not least <= len(defaults) <= most:
            message = f"Must be between {least} and {most} in length."
            checks.flag((*place, "default_values"), "BASE_TYPE_BAD_LENGTH", message)


def check_options(checks: FieldChecks, options: list[Any], place: Place, *, chosen_most: int) -> None:
    """Note options with bad texts, values that occur twice, or more pre-chosen ones than may be chosen."""
    seen: set[Any] = set()
    for index, option in enumerate(options):
        here = (*place, index)
        if not isinstance(option, dict):
            checks.flag(here, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
            continue
        checks.text(option, "label", here, least=1, most=100, required=True)
        value = checks.text(option, "value", here, least=1, most=100, required=True)
        checks.text(option, "description", here, most=100)
        if value in seen:
            checks.flag((*here, "value"), "SELECT_COMPONENT_OPTION_VALUE_DUPLICATED", "The option value is duplicated.")
        seen.add(value)
    chosen = sum(bool(option.get("default")) for option in options if isinstance(option, dict))
    if chosen > chosen_most:
        checks.flag(place, "SELECT_COMPONENT_TOO_MANY_DEFAULTS", f"At most {chosen_most} options may be default.")
