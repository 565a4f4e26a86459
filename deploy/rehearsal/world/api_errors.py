"""What the platform says when it refuses a request: status, code, message and a nested tree of errors."""

from __future__ import annotations

from typing import Any

Json = dict[str, Any]

KNOWN: dict[int, tuple[int, str]] = {
    0: (401, "401: Unauthorized"),
    10003: (404, "Unknown Channel"),
    10004: (404, "Unknown Guild"),
    10007: (404, "Unknown Member"),
    10008: (404, "Unknown Message"),
    10011: (404, "Unknown Role"),
    10013: (404, "Unknown User"),
    10015: (404, "Unknown Webhook"),
    10062: (404, "Unknown interaction"),
    10063: (404, "Unknown application command"),
    30003: (400, "Maximum number of pins reached for the channel (250)"),
    30015: (400, "Maximum number of attachments in a message reached (10)"),
    30033: (400, "Maximum number of thread participants has been reached (1000)"),
    30034: (400, "Maximum number of daily application command creates has been reached (200)"),
    30046: (429, "Maximum number of edits to messages older than 1 hour reached. Try again later"),
    40005: (413, "Request entity too large"),
    40060: (400, "Interaction has already been acknowledged."),
    40333: (403, "internal network error"),
    50001: (403, "Missing Access"),
    50005: (403, "Cannot edit a message authored by another user"),
    50006: (400, "Cannot send an empty message"),
    50007: (403, "Cannot send messages to this user"),
    50013: (403, "Missing Permissions"),
    50021: (403, "Cannot execute action on a system message"),
    50024: (400, "Cannot execute action on this channel type"),
    50027: (401, "Invalid Webhook Token"),
    50033: (400, "Invalid Recipient(s)"),
    50035: (400, "Invalid Form Body"),
    50045: (400, "File uploaded exceeds the maximum size"),
    50083: (400, "Thread is archived"),
    50109: (400, "The request body contains invalid JSON."),
    50278: (403, "Cannot send messages to this user due to having no mutual guilds"),
    160005: (400, "This thread is locked"),
}
"""Code -> (HTTP status, message). By the public list of error codes, which leaves some statuses open."""


class Refused(Exception):
    """The platform's answer to a request it will not carry out."""

    def __init__(self, code: int, *, errors: Json | None = None, message: str | None = None) -> None:
        """Refuse with one of the `KNOWN` codes; `errors` is the nested tree that goes with code 50035."""
        self.code = code
        self.status, standard = KNOWN[code]
        self.message = message or standard
        self.errors = errors
        super().__init__(f"{self.status} {code} {self.message}")

    def body(self) -> Json:
        """Return the JSON body of the refusal."""
        body: Json = {"message": self.message, "code": self.code}
        if self.errors:
            body["errors"] = self.errors
        return body


class Problems:
    """Collects what is wrong with a body, each at its place, and refuses once with all of it."""

    def __init__(self) -> None:
        self._found: list[tuple[tuple[str | int, ...], str, str]] = []

    def add(self, place: tuple[str | int, ...], code: str, message: str) -> None:
        """Note one problem at `place`, for example `("embeds", 0, "title")`."""
        self._found.append((place, code, message))

    def tree(self) -> Json:
        """Return the nested error tree, every leaf a list under `_errors`.

        A node is either a leaf or a branch, so what was noted about a whole is left out where a part has problems too.
        """
        places = [place for place, _, _ in self._found]
        root: Json = {}
        for place, code, message in self._found:
            if any(len(other) > len(place) and other[: len(place)] == place for other in places):
                continue
            node = root
            for part in place:
                node = node.setdefault(str(part), {})
            node.setdefault("_errors", []).append({"code": code, "message": message})
        return root

    def raise_if_any(self) -> None:
        """Raise `Refused` (50035) if anything was noted."""
        if self._found:
            raise Refused(50035, errors=self.tree())
