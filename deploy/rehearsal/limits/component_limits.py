"""Limits of the components a message may carry, by the component reference of the public API."""

from __future__ import annotations

from typing import Any

from deploy.rehearsal.limits.field_checks import Gauge, Place
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.components import (
    BUTTON,
    CHANNEL_SELECT,
    CONTAINER,
    FILE,
    GALLERY,
    LINK,
    MENTIONABLE_SELECT,
    ROLE_SELECT,
    ROW,
    SECTION,
    SELECTS,
    SEPARATOR,
    STRING_SELECT,
    TEXT,
    THUMBNAIL,
    USER_SELECT,
    V2_ONLY,
    walk,
)

IN_CONTAINER = (ROW, TEXT, SECTION, GALLERY, SEPARATOR, FILE)
TEXT_TOTAL = 4000
"""Characters of all text displays of one message together, as the public component reference has it."""


def check_message_components(gauge: Gauge, components: list[Any], *, v2: bool) -> None:
    """Note everything about `components` that the platform would not take, in either message layout."""
    place: Place = ("components",)
    if v2:
        total = sum(1 for _ in walk(components))
        if total > 40:
            gauge.flag(place, "COMPONENT_MAX_TOTAL_COMPONENTS_EXCEEDED", f"{total} components; the most is 40.")
        texts = sum(len(str(c.get("content", ""))) for _, c in walk(components) if c.get("type") == TEXT)
        if texts > TEXT_TOTAL:
            message = f"Text displays must hold {TEXT_TOTAL} or fewer characters together."
            gauge.flag(place, "COMPONENT_DISPLAYABLE_TEXT_SIZE_EXCEEDED", message)
    elif len(components) > 5:
        gauge.flag(place, "BASE_TYPE_BAD_LENGTH", "Must be between 1 and 5 in length.")
    for index, component in enumerate(components):
        _check(gauge, component, (*place, index), (ROW, *V2_ONLY) if v2 else (ROW,))
    check_unique_ids(gauge, components)


def check_unique_ids(gauge: Gauge, components: list[Any]) -> None:
    """Note custom ids and numeric ids that occur twice."""
    for key in ("custom_id", "id"):
        seen: set[Any] = set()
        for place, component in walk(components):
            value = component.get(key)
            if not value:
                continue
            if value in seen:
                code = "COMPONENT_CUSTOM_ID_DUPLICATED" if key == "custom_id" else "COMPONENT_ID_DUPLICATED"
                gauge.flag((*place, key), code, f"Component {key} cannot be duplicated")
            seen.add(value)


def _check(gauge: Gauge, component: Any, place: Place, allowed: tuple[int, ...]) -> None:
    if not isinstance(component, dict):
        gauge.flag(place, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
        return
    kind = component.get("type")
    if kind not in allowed:
        gauge.choice((*place, "type"), f"Value must be one of {{{', '.join(map(str, allowed))}}}.")
        return
    if kind == ROW:
        _check_row(gauge, component, place)
    elif kind == SECTION:
        for index, text in enumerate(gauge.items(component, "components", place, least=1, most=3, required=True)):
            _check(gauge, text, (*place, "components", index), (TEXT,))
        _check(gauge, component.get("accessory"), (*place, "accessory"), (BUTTON, THUMBNAIL))
    elif kind == GALLERY:
        _check_gallery(gauge, component, place)
    elif kind == CONTAINER:
        for index, child in enumerate(gauge.items(component, "components", place, least=1, most=40, required=True)):
            _check(gauge, child, (*place, "components", index), IN_CONTAINER)
    else:
        _check_leaf(gauge, component, place)


def _check_gallery(gauge: Gauge, gallery: Json, place: Place) -> None:
    for index, item in enumerate(gauge.items(gallery, "items", place, least=1, most=10, required=True)):
        here = (*place, "items", index)
        if isinstance(item, dict):
            gauge.text(item, "description", here, least=1, most=1024)
            _check_media(gauge, item.get("media"), (*here, "media"))
        else:
            gauge.flag(here, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")


def _check_leaf(gauge: Gauge, component: Json, place: Place) -> None:
    """Check a component without children."""
    kind = component["type"]
    if kind == TEXT:
        gauge.text(component, "content", place, least=1, most=4000, required=True)
    elif kind == BUTTON:
        check_button(gauge, component, place)
    elif kind == THUMBNAIL:
        gauge.text(component, "description", place, least=1, most=1024)
        _check_media(gauge, component.get("media"), (*place, "media"))
    elif kind == FILE:
        _check_media(gauge, component.get("file"), (*place, "file"), attachment_only=True)


def _check_row(gauge: Gauge, row: Json, place: Place) -> None:
    children = gauge.items(row, "components", place, least=1, most=5, required=True)
    kinds = [child.get("type") for child in children if isinstance(child, dict)]
    if any(kind in SELECTS for kind in kinds) and len(kinds) > 1:
        gauge.flag((*place, "components"), "COMPONENT_LAYOUT_WIDTH_EXCEEDED", "The specified component exceeds the max")
    for index, child in enumerate(children):
        here = (*place, "components", index)
        if not isinstance(child, dict) or child.get("type") not in (BUTTON, *SELECTS):
            gauge.choice((*here, "type"), "Value must be one of {2, 3, 5, 6, 7, 8}.")
        elif child["type"] == BUTTON:
            check_button(gauge, child, here)
        else:
            check_select(gauge, child, here)


def check_button(gauge: Gauge, button: Json, place: Place) -> None:
    """Note what is wrong with a button; it needs a label or an emoji, and an id or an address but not both."""
    gauge.one_of(button, "style", place, (1, 2, 3, 4, 5, 6), required=True)
    label = gauge.text(button, "label", place, most=80)
    if not label and not button.get("emoji"):
        gauge.flag((*place, "label"), "BUTTON_COMPONENT_MISSING_LABEL", "A button needs a label or an emoji.")
    if button.get("style") == LINK:
        gauge.text(button, "url", place, least=1, most=512, required=True)
        if button.get("custom_id"):
            gauge.flag(place, "BUTTON_COMPONENT_CUSTOM_ID_URL_MUTUALLY_EXCLUSIVE", "A custom id and url cannot both be")
    else:
        gauge.text(button, "custom_id", place, least=1, most=100, required=True)


def check_select(gauge: Gauge, select: Json, place: Place, *, in_form: bool = False) -> None:
    """Note what is wrong with a select of any kind."""
    gauge.text(select, "custom_id", place, least=1, most=100, required=True)
    gauge.text(select, "placeholder", place, most=150)
    least = gauge.number(select, "min_values", place, least=0, most=25)
    most = gauge.number(select, "max_values", place, least=1, most=25)
    least, most = 1 if least is None else least, 1 if most is None else most
    if least > most:
        gauge.flag((*place, "min_values"), "SELECT_COMPONENT_INVALID_MIN_VALUES", "min_values is above max_values")
    if in_form and select.get("disabled"):
        gauge.flag((*place, "disabled"), "COMPONENT_DISABLED_IN_MODAL", "A select in a modal cannot be disabled.")
    if select.get("type") == STRING_SELECT:
        options = gauge.items(select, "options", place, least=1, most=25, required=True)
        check_options(gauge, options, (*place, "options"), chosen_most=most)
        if len(options) < least:
            gauge.flag((*place, "options"), "SELECT_COMPONENT_TOO_FEW_OPTIONS", "fewer options than min_values")
    elif select.get("type") in (USER_SELECT, ROLE_SELECT, MENTIONABLE_SELECT, CHANNEL_SELECT):
        defaults = gauge.items(select, "default_values", place, most=25)
        if defaults and not least <= len(defaults) <= most:
            message = f"Must be between {least} and {most} in length."
            gauge.flag((*place, "default_values"), "BASE_TYPE_BAD_LENGTH", message)


def check_options(gauge: Gauge, options: list[Any], place: Place, *, chosen_most: int) -> None:
    """Note options with bad texts, values that occur twice, or more pre-chosen ones than may be chosen."""
    seen: set[Any] = set()
    for index, option in enumerate(options):
        here = (*place, index)
        if not isinstance(option, dict):
            gauge.flag(here, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
            continue
        gauge.text(option, "label", here, least=1, most=100, required=True)
        value = gauge.text(option, "value", here, least=1, most=100, required=True)
        gauge.text(option, "description", here, most=100)
        if value in seen:
            gauge.flag((*here, "value"), "SELECT_COMPONENT_OPTION_VALUE_DUPLICATED", "The option value is duplicated.")
        seen.add(value)
    chosen = sum(bool(option.get("default")) for option in options if isinstance(option, dict))
    if chosen > chosen_most:
        gauge.flag(place, "SELECT_COMPONENT_TOO_MANY_DEFAULTS", f"At most {chosen_most} options may be default.")


def _check_media(gauge: Gauge, media: Any, place: Place, *, attachment_only: bool = False) -> None:
    if not isinstance(media, dict):
        gauge.flag(place, "BASE_TYPE_REQUIRED", "This field is required")
        return
    url = gauge.text(media, "url", place, least=1, most=2048, required=True) or ""
    schemes = ("attachment://",) if attachment_only else ("attachment://", "https://", "http://")
    if url and not url.startswith(schemes):
        gauge.flag((*place, "url"), "URL_TYPE_INVALID_SCHEME", f"Scheme must be one of {schemes}.")
