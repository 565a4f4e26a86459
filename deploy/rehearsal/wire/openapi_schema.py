"""The platform's published schema (OpenAPI 3.1), where a copy is at hand: one compiled validator per operation."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema_rs

from deploy.rehearsal.world.api_errors import Json

SCHEMA_VARIABLE = "TENBELL_SCHEMA"
BESIDE_THE_CHECKOUT = Path(__file__).resolve().parents[3] / "shared" / "platform-openapi.json"
REF = "#/components/schemas/"
WORDED_ERRORS: Json = {
    "type": "object",
    "required": ["_errors"],
    "additionalProperties": False,
    "properties": {
        "_errors": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["code", "message"],
                "properties": {"code": {"type": "string"}, "message": {"type": "string"}},
            },
        }
    },
}
BODY_KINDS = ("application/json", "multipart/form-data")


def schema_path() -> Path | None:
    """Return where the schema lies: named by the environment, else beside the checkout, else nowhere."""
    named = os.environ.get(SCHEMA_VARIABLE)
    path = Path(named) if named else BESIDE_THE_CHECKOUT
    return path if path.is_file() else None


class Schema:
    """Checks request and response bodies against the published schema."""

    def __init__(self, path: Path) -> None:
        """Read the schema; validators are compiled when first needed."""
        document = json.loads(path.read_text(encoding="utf-8"))
        self._paths: Json = document["paths"]
        components: Json = document["components"]
        snowflake = components["schemas"]["SnowflakeType"]
        # The platform takes identifiers as JSON integers too, and the chat library sends some so.
        self._incoming = _with(components, "SnowflakeType", {"anyOf": [{"type": "integer", "minimum": 0}, snowflake]})
        # The documentation's nested errors carry words as codes ("BASE_TYPE_REQUIRED"); the schema says numbers.
        self._outgoing = _with(components, "InnerErrors", WORDED_ERRORS)
        self._compiled: dict[tuple[str, str, str], jsonschema_rs.Draft202012Validator | None] = {}
        self.operations = [
            f"{method.upper()} {path}"
            for path, methods in self._paths.items()
            for method in methods
            if method != "parameters"
        ]

    def knows(self, route: str) -> bool:
        """Whether the schema describes this operation ("METHOD /path/{id}")."""
        return self._operation(route) is not None

    def request_problems(self, route: str, body: Any) -> list[str]:
        """Return what the schema finds wrong with a request body; nothing for operations it does not describe."""
        return self._problems((route, "request", ""), body)

    def response_problems(self, route: str, status: int, body: Any) -> list[str]:
        """Return what the schema finds wrong with an answer of ours."""
        return self._problems((route, "response", str(status)), body)

    def object_problems(self, name: str, value: Any) -> list[str]:
        """Return what is wrong with `value` as the named schema object, for parts of gateway events."""
        return self._problems((name, "object", ""), value)

    def _problems(self, key: tuple[str, str, str], value: Any) -> list[str]:
        if key not in self._compiled:
            self._compiled[key] = self._compile(*key)
        validator = self._compiled[key]
        if validator is None or validator.is_valid(value):
            return []
        return [text for error in validator.iter_errors(value) for text in _deepest(error)]

    def _compile(self, name: str, part: str, status: str) -> jsonschema_rs.Draft202012Validator | None:
        if part == "object":
            found: Any = {"$ref": f"{REF}{name}"}
        else:
            operation = self._operation(name)
            if operation is None:
                return None
            found = _request_schema(operation) if part == "request" else _response_schema(operation, status)
        if found is None:
            return None
        components = self._incoming if part == "request" else self._outgoing
        return jsonschema_rs.Draft202012Validator({**found, "components": components})

    def _operation(self, route: str) -> Json | None:
        method, _, path = route.partition(" ")
        operation = self._paths.get(path, {}).get(method.lower())
        return operation if isinstance(operation, dict) else None


def _with(components: Json, name: str, schema: Json) -> Json:
    """Return the components with one schema in place of the published one."""
    return {**components, "schemas": {**components["schemas"], name: schema}}


def _request_schema(operation: Json) -> Json | None:
    content = (operation.get("requestBody") or {}).get("content") or {}
    for kind in BODY_KINDS:
        if kind in content:
            found = content[kind]["schema"]
            return dict(found)
    return None


def _response_schema(operation: Json, status: str) -> Json | None:
    responses = operation.get("responses") or {}
    response = responses.get(status) or (responses.get("4XX") if status.startswith("4") else None)
    if response is None:
        return None
    if "$ref" in response:
        name = "RatelimitedResponse" if status == "429" else "ErrorResponse"
        return {"$ref": f"{REF}{name}"}
    content = response.get("content") or {}
    found = content.get("application/json", {}).get("schema")
    return dict(found) if found else None


def _deepest(error: Any) -> Iterator[str]:
    """Yield one line per error with its place; the value itself is left out, it may be long."""
    place = "/".join(str(part) for part in error.instance_path) or "(whole body)"
    yield f"{place}: {str(error.message)[-160:]}"
