"""Component trees: walking them, numbering them, and writing them back as the platform does.

Only what stands under a message in rows, and what stands in forms: no boxed or laid-out messages, no selects of roles.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from deploy.rehearsal.world.api_errors import Json

ROW, BUTTON, STRING_SELECT, TEXT_INPUT = 1, 2, 3, 4
USER_SELECT, CHANNEL_SELECT, TEXT = 5, 8, 10
LABEL, FILE_UPLOAD, RADIO_GROUP, CHECKBOX_GROUP, CHECKBOX = 18, 19, 21, 22, 23
SELECTS = (STRING_SELECT, USER_SELECT, CHANNEL_SELECT)
LINK = 5
"""The button style that opens an address instead of sending an interaction."""

Place = tuple[str | int, ...]


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
        child = component.get("component")
        if isinstance(child, dict):
            yield (*here, "component"), child


def flat(components: list[Any]) -> list[Json]:
    """Return every component without its place, parents before children, in reading order."""
    found: list[Json] = []
    for component in components:
        if isinstance(component, dict):
            found.append(component)
            if "components" in component and isinstance(component["components"], list):
                found += flat(component["components"])
            if "component" in component and isinstance(component["component"], dict):
                found.append(component["component"])
    return found


def numbered(components: list[Json]) -> list[Json]:
    """Return a copy in which every component has an `id` of its own, counted up from 1 where none was given.

    What components are made of otherwise, such as options, is shared: nothing changes it.
    """
    tree = [_copied(component) for component in components]
    every = flat(tree)
    taken = {component["id"] for component in every if component.get("id")}
    fresh = (number for number in range(1, 10_000) if number not in taken)
    for component in every:
        if not component.get("id"):
            component["id"] = next(fresh)
    return tree


def _copied(component: Json) -> Json:
    copy = dict(component)
    if "components" in copy and isinstance(copy["components"], list):
        copy["components"] = [_copied(child) for child in copy["components"]]
    if "component" in copy and isinstance(copy["component"], dict):
        copy["component"] = dict(copy["component"])
    return copy


def find(components: list[Json], custom_id: str) -> Json | None:
    """Return the component with this custom id, if the tree holds one."""
    return next((component for component in flat(components) if component.get("custom_id") == custom_id), None)


def response_shape(components: list[Json]) -> list[Json]:
    """Write a numbered tree as the platform sends it back: defaults filled in, nulls left out."""
    return [_one(component) for component in components]


def _one(component: Json) -> Json:
    shape: Json = {key: value for key, value in component.items() if value is not None}
    if "components" in shape:
        shape["components"] = response_shape(component["components"])
    if component["type"] in SELECTS:
        shape.setdefault("min_values", 1)
        shape.setdefault("max_values", 1)
        shape.pop("required", None)
        if "default_values" in shape:
            shape["default_values"] = [{"id": str(v["id"]), "type": v["type"]} for v in shape["default_values"]]
    return shape
