"""The content server: where files lie, and the signed addresses under which they can be fetched for a day."""

from __future__ import annotations

import hashlib
import struct
from datetime import timedelta

from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import File, World

LIFE = timedelta(hours=24)
"""How long a signed address stays good, in virtual time."""

PNG_SIGNATURE = b"\x89PNG\r\n\x1a\n"


class ContentServer:
    """Gives files their addresses and finds them again."""

    def __init__(self, world: World) -> None:
        self._world = world
        self.base = "http://127.0.0.1"

    def address(self, file: File) -> str:
        """Return a freshly signed address of `file`."""
        issued = int(self._world.now.timestamp())
        expires = issued + int(LIFE.total_seconds())
        signature = self._signature(file.id, expires)
        path = f"/attachments/{file.room_id}/{file.id}/{file.name}"
        return f"{self.base}{path}?ex={expires:x}&is={issued:x}&hm={signature}"

    def fetch(self, file_id: int, expires: str, signature: str) -> File | None:
        """Return the file behind an address, or nothing if the address is expired or was never signed here."""
        file = self._world.files.get(file_id)
        try:
            until = int(expires, 16)
        except ValueError:
            return None
        good = signature == self._signature(file_id, until) and self._world.now.timestamp() <= until
        return file if good else None

    def shape(self, file: File) -> Json:
        """Return the attachment as messages carry it."""
        address = self.address(file)
        shape: Json = {
            "id": str(file.id),
            "filename": file.name,
            "size": len(file.data),
            "url": address,
            "proxy_url": address,
            "content_type": file.content_type,
        }
        if file.description:
            shape["description"] = file.description
        if file.ephemeral:
            shape["ephemeral"] = True
        size = picture_size(file.data)
        if size:
            shape["width"], shape["height"] = size
        return shape

    def _signature(self, file_id: int, expires: int) -> str:
        return hashlib.sha256(f"{self._world.guild_id}|{file_id}|{expires}".encode()).hexdigest()


def picture_size(data: bytes) -> tuple[int, int] | None:
    """Return width and height in pixels of a PNG, read from its first chunk; nothing for other files."""
    if not data.startswith(PNG_SIGNATURE) or len(data) < 24:
        return None
    width, height = struct.unpack(">II", data[16:24])
    return int(width), int(height)
