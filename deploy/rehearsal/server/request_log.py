"""The log of the API: every request, every answer, every violation, and how long first answers took."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

from deploy.rehearsal.wire.openapi_schema import Schema
from deploy.rehearsal.wire.request_bodies import Body
from deploy.rehearsal.world.api_errors import Json, Refused

BODY_FAULTS = {30003, 30015, 30034, 40005, 50006, 50033, 50035, 50045, 50109}
"""Refusals that mean the body itself was wrong, not that the time or the place was."""
NO_SCHEMA = "the platform's published schema is not at hand; only the hand-written rules were checked"


@dataclass(frozen=True)
class Violation:
    """One thing in a request, an answer or an event that the platform's rules do not allow."""

    where: str
    problem: str


class RequestLog:
    """Counts and checks; it never changes what the server does."""

    def __init__(self, schema: Schema | None) -> None:
        self._schema = schema
        self.requests: Counter[str] = Counter()
        self.statuses: Counter[int] = Counter()
        self.refusals: Counter[int] = Counter()
        self.checked = 0
        self.violations: list[Violation] = []
        self.ack_ms: list[float] = []

    @property
    def notes(self) -> list[str]:
        """What a reader of the figures should know."""
        return [] if self._schema else [NO_SCHEMA]

    @property
    def total(self) -> int:
        """How many requests have come."""
        return self.requests.total()

    def request(self, route: str, body: Body) -> None:
        """Count a request and check its body (the JSON of `payload_json`, if it came as multipart)."""
        self.requests[route] += 1
        if self._schema is None or body.value is None:
            return
        self.checked += 1
        for problem in self._schema.request_problems(route, body.value):
            self._note(route, f"request: {problem}")

    def unknown(self, request: str) -> None:
        """Count a request for a path that is not there: a client asks for what the platform, or we, do not have."""
        self.requests[f"{request.partition(' ')[0]} (unknown path)"] += 1
        self._note(request, "request: there is no such path")

    def refused(self, route: str, refused: Refused) -> None:
        """Count a refusal; one for a wrong body is a violation."""
        self.refusals[refused.code] += 1
        if refused.code in BODY_FAULTS:
            details = "; ".join(_flat(refused.errors or {})) or refused.message
            self._note(route, f"request: {refused.code} {details}")

    def response(self, route: str, status: int, body: Any) -> None:
        """Check one of our own answers."""
        self.statuses[status] += 1
        if self._schema is None or body is None:
            return
        self.checked += 1
        for problem in self._schema.response_problems(route, status, body):
            self._note(route, f"answer {status}: {problem}")

    def event(self, name: str, data: Json) -> None:
        """Check the parts of an interaction event that the schema describes."""
        if self._schema is None:
            return
        parts = {"message": "MessageResponse", "user": "UserResponse", "member": "GuildMemberResponse"}
        for key, schema_name in parts.items():
            if key in data:
                self.checked += 1
                for problem in self._schema.object_problems(schema_name, data[key]):
                    self._note(name, f"event {key}: {problem}")

    def server_failed(self, route: str, fault: Exception) -> None:
        """Note that the class server itself failed at a request."""
        self._note(route, f"answer 500: the class server failed: {fault!r}")

    def acknowledged(self, milliseconds: float) -> None:
        """Note how long a first answer took, from the sending of the event."""
        self.ack_ms.append(milliseconds)

    def figures(self) -> Json:
        """Return the books as `season.json` carries them."""
        return {
            "requests": dict(sorted(self.requests.items())),
            "schema": {
                "checked": self.checked,
                "violations": [{"where": v.where, "problem": v.problem} for v in self.violations],
                "notes": self.notes,
            },
            "ack_ms": {
                "p50": percentile(self.ack_ms, 50),
                "p99": percentile(self.ack_ms, 99),
                "max": percentile(self.ack_ms, 100),
            },
        }

    def _note(self, where: str, problem: str) -> None:
        violation = Violation(where, problem)
        if violation not in self.violations:
            self.violations.append(violation)


def percentile(values: list[float], percent: float) -> float | None:
    """Return the smallest value that at least `percent` of the values do not exceed (nearest rank)."""
    if not values:
        return None
    ordered = sorted(values)
    rank = max(1, -(-len(ordered) * percent // 100))
    return round(ordered[int(rank) - 1], 3)


def _flat(tree: Json, place: str = "") -> list[str]:
    found = [f"{place or '(whole body)'}: {error['message']}" for error in tree.get("_errors", [])]
    for key, value in tree.items():
        if key != "_errors":
            found += _flat(value, f"{place}.{key}" if place else key)
    return found
