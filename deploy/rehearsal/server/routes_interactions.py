"""Routes by which the bot answers interactions: the callback, the original answer, follow-ups."""

from __future__ import annotations

from deploy.rehearsal.server.interactions import Interactions
from deploy.rehearsal.server.message_publisher import Publisher
from deploy.rehearsal.server.rest_api import Answer, Call, Table
from deploy.rehearsal.wire.interaction_events import Interaction
from deploy.rehearsal.world.state import World


class InteractionRoutes:
    """Serves callbacks and interaction webhooks; the token in the path is the authorisation."""

    def __init__(self, world: World, publisher: Publisher, interactions: Interactions) -> None:
        self._world = world
        self._publisher = publisher
        self._interactions = interactions

    def table(self) -> Table:
        """Return the routes."""
        webhook = "/webhooks/{webhook_id}/{webhook_token}"
        table: Table = {
            "POST /interactions/{interaction_id}/{interaction_token}/callback": self._callback,
            f"POST {webhook}": self._follow_up,
        }
        for name in ("@original", "{message_id}"):
            table[f"GET {webhook}/messages/{name}"] = self._get
            table[f"PATCH {webhook}/messages/{name}"] = self._edit
            table[f"DELETE {webhook}/messages/{name}"] = self._delete
        return table

    def _callback(self, call: Call) -> Answer:
        number, token = call.number("interaction_id"), call.ids["interaction_token"]
        interaction = self._interactions.answer(number, token, call.body)
        if call.query.get("with_response") not in ("1", "true"):
            return Answer(204)
        return Answer(200, self._interactions.callback_shape(interaction))

    def _interaction(self, call: Call) -> Interaction:
        return self._interactions.find(call.number("webhook_id"), call.ids["webhook_token"])

    def _follow_up(self, call: Call) -> Answer:
        message = self._interactions.follow_up(self._interaction(call), call.body)
        return Answer(200, self._publisher.wire(message))

    def _get(self, call: Call) -> Answer:
        message = self._interactions.message(self._interaction(call), call.ids.get("message_id", "@original"))
        return Answer(200, self._publisher.wire(message))

    def _edit(self, call: Call) -> Answer:
        interaction = self._interaction(call)
        message = self._interactions.message(interaction, call.ids.get("message_id", "@original"))
        self._interactions.edit(interaction, message, call.body)
        return Answer(200, self._publisher.wire(message))

    def _delete(self, call: Call) -> Answer:
        interaction = self._interaction(call)
        message = self._interactions.message(interaction, call.ids.get("message_id", "@original"))
        self._interactions.delete(interaction, message)
        return Answer(204)
