"""The format of a plan as a JSON Schema (draft 2020-12), made from the models: for editors, and for the reference."""

from collections.abc import Iterator, Mapping
from typing import Any

from bot.rules.plan.plan_key_checks import MEASURES, TABLES
from bot.words.plan.plan_key_meanings import MEANINGS
from storage.records.plan import Plan

Schema = dict[str, Any]
LOCAL = r"^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?$"
"""A local date and time, which the schema's own word for dates with an offset does not cover."""


def plan_schema() -> Schema:
    """The schema of a plan. What holds between its parts (see `plan_consistency_checks`) no schema can say."""
    made = _plain(Plan.model_json_schema())
    for path, model in tables():
        table = made if path == () else made["$defs"][model]
        table.pop("description", None)
        for name, field in table["properties"].items():
            field["description"] = MEANINGS[(*path, name)]
            field.pop("title", None)
        table["title"] = " ".join(("Plan", *path))
    for kind, measure in MEASURES.items():
        # Without it a table of any kind would do; the models read it as the mark of the kind.
        made["$defs"][measure.__name__].setdefault("required", []).append("kind")
        made["$defs"][measure.__name__]["properties"]["kind"] = {"const": kind, "description": MEANINGS[KIND]}
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made}


KIND = ("events", "measures", "kind")


def tables() -> Iterator[tuple[tuple[str, ...], str]]:
    """Each table of a plan: where it stands, and the name of its model; a measure has one for each kind."""
    for path, model in TABLES.items():
        yield path, model.__name__
        if path == ("events",):
            yield from ((("events", "measures"), measure.__name__) for measure in MEASURES.values())


def _plain(value: Any) -> Any:
    """The schema of TOML: numbers are numbers (not texts), nothing is null, dates and times are local."""
    if isinstance(value, list):
        return [_plain(entry) for entry in value]
    if not isinstance(value, dict):
        return value
    made = {key: _plain(entry) for key, entry in value.items() if not (key == "default" and entry is None)}
    if "anyOf" in made:
        made |= _one_of(made.pop("anyOf"))
        if made.get("type") == "number" and isinstance(made.get("default"), str):
            made["default"] = float(made["default"]) if "." in made["default"] else int(made["default"])
    if made.pop("format", None) == "date-time":
        made["pattern"] = LOCAL
    if made.get("type") == "string" and isinstance(value.get("format"), str) and value["format"] == "time":
        made["pattern"] = r"^\d{2}:\d{2}(:\d{2}(\.\d+)?)?$"
    if made.get("type") == "string" and value.get("format") == "date":
        made["pattern"] = r"^\d{4}-\d{2}-\d{2}$"
    return made


def _one_of(choices: list[Mapping[str, Any]]) -> Mapping[str, Any]:
    """What is left of a choice without null, and of a number without its text."""
    left = [one for one in choices if one.get("type") != "null"]
    numbers = [one for one in left if one.get("type") in ("number", "integer")]
    return numbers[0] if numbers else left[0]
