"""Reading request bodies: plain JSON, or multipart with `payload_json` and files."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any

from aiohttp import BodyPartReader, content_disposition_filename, parse_content_disposition, web

from deploy.rehearsal.world.api_errors import Json, Refused

REQUEST_LIMIT = 25 * 1024 * 1024
"""Bytes of one whole request."""


@dataclass(frozen=True)
class Upload:
    """One uploaded file; `key` is the number in `files[key]`."""

    key: str
    filename: str
    data: bytes
    content_type: str


@dataclass(frozen=True)
class Body:
    """What a request carried: its JSON (null when there was none) and its files."""

    value: Any = None
    uploads: list[Upload] = field(default_factory=list)
    multipart: bool = False

    @property
    def json(self) -> Json:
        """The JSON object of the body; an absent body counts as an empty one. Raises `Refused`."""
        if self.value is None:
            return {}
        if not isinstance(self.value, dict):
            raise Refused(50035, errors={"_errors": [{"code": "MODEL_TYPE_CONVERT", "message": "Not an object."}]})
        return self.value


async def read_body(request: web.Request) -> Body:
    """Read the body of `request`; raises `Refused` for one that is too large or is not JSON."""
    if (request.content_length or 0) > REQUEST_LIMIT:
        raise Refused(40005)
    # The web library parses this anew for each boundary, by the rules of mail, which takes as long as reading the body.
    kind = request.headers.get("Content-Type", "").partition(";")[0].strip().lower()
    if kind.startswith("multipart/"):
        return await _read_multipart(request)
    raw = await request.read()
    if kind != "application/json":
        return Body()
    return Body(_parse(raw)) if raw else Body()


async def _read_multipart(request: web.Request) -> Body:
    value: Any = None
    uploads: list[Upload] = []
    reader = await request.multipart()
    total = 0
    while (part := await reader.next()) is not None:
        if not isinstance(part, BodyPartReader):
            raise Refused(50109)
        data = bytes(await part.read(decode=False))
        total += len(data)
        if total > REQUEST_LIMIT:
            raise Refused(40005)
        # Read once: the web library reads this header anew for each word of it that is asked for.
        _, words = parse_content_disposition(part.headers.get("Content-Disposition"))
        name = words.get("name", "")
        if name == "payload_json":
            value = _parse(data)
        elif name.startswith("files[") and name.endswith("]"):
            kind = part.headers.get("Content-Type", "application/octet-stream")
            filename = content_disposition_filename(words, "filename") or ""
            uploads.append(Upload(name[6:-1], filename or "unknown", data, content_type_of(filename, kind)))
    return Body(value, uploads, multipart=True)


def _parse(raw: bytes) -> Any:
    try:
        return json.loads(raw)
    except ValueError:
        raise Refused(50109) from None


def content_type_of(filename: str, declared: str = "application/octet-stream") -> str:
    """Guess the content type from the name, as the content server does; clients send octet-stream for all."""
    known = {
        "png": "image/png",
        "jpg": "image/jpeg",
        "jpeg": "image/jpeg",
        "txt": "text/plain; charset=utf-8",
        "toml": "application/toml",
        "json": "application/json; charset=utf-8",
        "csv": "text/csv; charset=utf-8",
        "pdf": "application/pdf",
        "ics": "text/calendar",
        "mp4": "video/mp4",
        "mov": "video/quicktime",
    }
    return known.get(filename.rsplit(".", 1)[-1].lower(), declared)
