"""The call that carries the first answer to an interaction: the platform is not asked to send that answer back.

The chat library asks for it each time and makes a whole message of it, which nobody here reads.
"""

from typing import Any

from discord.http import MultipartParameters, Route
from discord.webhook.async_ import AsyncWebhookAdapter, async_context


class CallbackAdapter(AsyncWebhookAdapter):
    """The chat library's adapter for interactions, without the platform's copy of what was answered."""

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]

    async def create_interaction_response(  # type: ignore[override]
        self, interaction_id: int, token: str, *, params: MultipartParameters, **line: Any
    ) -> dict[str, Any]:
        """Send the answer; what comes back is the interaction's number alone."""
        route = Route(
            "POST", "/interactions/{webhook_id}/{webhook_token}/callback",
            webhook_id=interaction_id, webhook_token=token,
        )  # fmt: skip
        await self.request(route, payload=params.payload, files=params.files, multipart=params.multipart, **line)
        return {"interaction": {"id": interaction_id}}


_adapter = CallbackAdapter()


def answer_without_echo() -> None:
    """Have what is answered in this task go through that call."""
    async_context.set(_adapter)
