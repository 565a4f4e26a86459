"""Component trees: walking them, numbering them, and writing them back as the platform does."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from typing import Any

from deploy.rehearsal.world.api_errors import Json

ROW, BUTTON, STRING_SELECT, TEXT_INPUT = 1, 2, 3, 4
USER_SELECT, ROLE_SELECT, MENTIONABLE_SELECT, CHANNEL_SELECT = 5, 6, 7, 8
SECTION, TEXT, THUMBNAIL, GALLERY, FILE, SEPARATOR, CONTAINER = 9, 10, 11, 12, 13, 14, 17
LABEL, FILE_UPLOAD, RADIO_GROUP, CHECKBOX_GROUP, CHECKBOX = 18, 19, 21, 22, 23
SELECTS = (STRING_SELECT, USER_SELECT, ROLE_SELECT, MENTIONABLE_SELECT, CHANNEL_SELECT)
V2_ONLY = (SECTION, TEXT, THUMBNAIL, GALLERY, FILE, SEPARATOR, CONTAINER)
LINK = 5
"""The button style that opens an address instead of sending an interaction."""

Place = tuple[str | int, ...]
Media = Callable[[str], Json]
"""Turns a media reference (`attachment://name` or an address) into an unfurled media object."""


def walk(components: list[Any], place: Place = ("components",)) -> Iterator[tuple[Place, Json]]:
    """Yield every component with its place, parents before children, in reading order."""
    for index, component in enumerate(components):
        if not isinstance(component, dict):
            continue
        here = (*place, index)
        yield here, component
        children = component.get("components")
        if isinstance(children, list):
            yield from walk(children, (*here, "components"))
        for key in ("accessory", "component"):
            child = component.get(key)
            if isinstance(child, dict):
                yield (*here, key), child


def numbered(components: list[Json]) -> list[Json]:
    """Return a copy in which every component has an `id` of its own, counted up from 1 where none was given."""
    tree = copy.deepcopy(components)
    taken = {component["id"] for _, component in walk(tree) if component.get("id")}
    fresh = (number for number in range(1, 10_000) if number not in taken)
    for _, component in walk(tree):
        if not component.get("id"):
            component["id"] = next(fresh)
    return tree


def find(components: list[Json], custom_id: str) -> Json | None:
    """Return the component with this custom id, if the tree holds one."""
    return next((component for _, component in walk(components) if component.get("custom_id") == custom_id), None)


def response_shape(components: list[Json], media: Media) -> list[Json]:
    """Write a numbered tree as the platform sends it back: defaults filled in, nulls left out."""
    return [_one(component, media) for component in components]


def _one(component: Json, media: Media) -> Json:
    kind = component["type"]
    shape: Json = {key: value for key, value in component.items() if value is not None}
    if "components" in shape:
        shape["components"] = response_shape(component["components"], media)
    if kind in SELECTS:
        shape.setdefault("min_values", 1)
        shape.setdefault("max_values", 1)
        shape.pop("required", None)
        if "default_values" in shape:
            shape["default_values"] = [{"id": str(v["id"]), "type": v["type"]} for v in shape["default_values"]]
    elif kind == SECTION:
        shape["accessory"] = _one(component["accessory"], media)
    elif kind == THUMBNAIL:
        shape = {"description": None, "spoiler": False} | shape | {"media": _plain(media, component["media"]["url"])}
    elif kind == GALLERY:
        shape["items"] = [
            {
                "media": _plain(media, item["media"]["url"]),
                "description": item.get("description"),
                "spoiler": bool(item.get("spoiler")),
            }
            for item in component["items"]
        ]
    elif kind == FILE:
        reference = media(component["file"]["url"])
        size = reference.pop("size", None)
        name = reference.pop("name", None)
        shape = {"spoiler": False} | shape | {"file": reference, "name": name, "size": size}
    elif kind == SEPARATOR:
        shape = {"spacing": 1, "divider": True} | shape
    elif kind == CONTAINER:
        shape = {"accent_color": None, "spoiler": False} | shape
    return shape


def _plain(media: Media, url: str) -> Json:
    """Return unfurled media without the name and size that only a file component shows."""
    return {key: value for key, value in media(url).items() if key not in ("size", "name")}
