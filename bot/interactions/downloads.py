"""Fetching the files that people send: none that is too large, and never for ever."""

import asyncio
import logging
from collections.abc import Mapping
from urllib.parse import urlsplit

import aiohttp
import discord
from discord.http import Route

from bot.interactions.read_request import attached
from storage.records.request import Request, Upload

log = logging.getLogger(__name__)

MOST_BYTES = 16 * 1024 * 1024
"""A file larger than this is not fetched at all: some people may send half a gigabyte."""
MOST_FILES = 2
"""No form and no command of ours takes more."""
FETCH_S = 20.0
"""A file server that is silent for so long has failed; what the person wrote is kept all the same."""


def may_be_fetched(address: str, api: str) -> bool:
    """Whether a file's address is one that the platform may give: https, or beside a platform on this machine.

    So an event that names an address of this machine, or of the network it stands in, fetches nothing from there.
    """
    try:
        file, platform = urlsplit(address), urlsplit(api)
    except ValueError:
        return False
    return file.scheme == "https" or (file.scheme, file.hostname) == (platform.scheme, platform.hostname)


class Downloads:
    """Fetches files."""

    def __init__(self, patience_s: float = FETCH_S) -> None:
        self._patience_s = patience_s

    async def fetch(
        self, interaction: discord.Interaction, request: Request, files: Mapping[str, discord.Attachment]
    ) -> Request:
        """The request with the bytes of its files, taken at once because the platform's links expire.

        A file that cannot be fetched comes as an upload that `failed`. The caller has waited for a turn.
        """
        found = list(attached(interaction, files).items())[:MOST_FILES]
        uploads = {key: await self._one(file) for key, file in found}
        return request.model_copy(update={"uploads": uploads})

    async def _one(self, file: discord.Attachment) -> Upload:
        upload = Upload(name=file.filename[:255], data=b"", size=file.size)
        if file.size > MOST_BYTES:
            return upload
        if not may_be_fetched(file.url, Route.BASE):
            log.warning("left out a file that is not where the platform keeps files")
            return upload.model_copy(update={"failed": True})
        try:
            async with asyncio.timeout(self._patience_s):
                data = await file.read()
        except (discord.HTTPException, aiohttp.ClientError, OSError) as error:
            # TimeoutError is an OSError.
            log.warning("could not fetch a file: %s", type(error).__name__)
            return upload.model_copy(update={"failed": True})
        # What the platform says of the size is not what its file server sends.
        return upload.model_copy(update={"data": data if len(data) <= MOST_BYTES else b"", "size": len(data)})
