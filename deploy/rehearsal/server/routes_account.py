"""Routes about the bot itself: who it is, where the gateway is, which commands it has."""

from __future__ import annotations

from collections import Counter
from typing import Any

from deploy.rehearsal.limits.command_limits import CHAT, CREATES_A_DAY, check_commands
from deploy.rehearsal.server.gateway_connection import GatewaySocket
from deploy.rehearsal.server.rest_api import Answer, Call, Table
from deploy.rehearsal.wire.guild_objects import application_shape, own_user_shape, user_shape
from deploy.rehearsal.world.api_errors import Json, Refused
from deploy.rehearsal.world.state import World


class AccountRoutes:
    """Serves the account, the gateway address and the commands."""

    def __init__(self, world: World, socket: GatewaySocket) -> None:
        self._world = world
        self._socket = socket
        self._created: Counter[tuple[str, int | None]] = Counter()

    def table(self) -> Table:
        """Return the routes."""
        in_guild = "/applications/{application_id}/guilds/{guild_id}/commands"
        everywhere = "/applications/{application_id}/commands"
        table: Table = {
            "GET /users/@me": lambda call: Answer(200, own_user_shape(self._world.bot)),
            "GET /users/{user_id}": self._user,
            "GET /oauth2/applications/@me": lambda call: Answer(200, application_shape(self._world)),
            "GET /gateway": lambda call: Answer(200, {"url": self._socket.address}),
            "GET /gateway/bot": self._gateway_for_bot,
        }
        for path in (everywhere, in_guild):
            table[f"GET {path}"] = lambda call: Answer(200, self._commands(call))
            table[f"PUT {path}"] = self._overwrite
            table[f"POST {path}"] = self._create
            table[f"DELETE {path}/{{command_id}}"] = self._delete
        return table

    def _user(self, call: Call) -> Answer:
        person = self._world.people.get(call.number("user_id"))
        if person is None:
            raise Refused(10013)
        return Answer(200, user_shape(person))

    def _gateway_for_bot(self, call: Call) -> Answer:
        limit = {"total": 1000, "remaining": 1000 - self._socket.identifies, "reset_after": 86_400_000}
        limit["max_concurrency"] = 1
        return Answer(200, {"url": self._socket.address, "shards": 1, "session_start_limit": limit})

    def _scope(self, call: Call) -> int | None:
        if call.number("application_id") != self._world.application_id:
            raise Refused(50001)
        if "guild_id" not in call.ids:
            return None
        if call.number("guild_id") != self._world.guild_id:
            raise Refused(50001)
        return self._world.guild_id

    def _commands(self, call: Call) -> list[Json]:
        return self._world.commands.get(self._scope(call), [])

    def _overwrite(self, call: Call) -> Answer:
        scope = self._scope(call)
        wanted = call.body.value or []
        if not isinstance(wanted, list):
            raise Refused(50035, errors={"_errors": [{"code": "LIST_TYPE_CONVERT", "message": "Not a list."}]})
        check_commands(wanted)
        self._world.commands[scope] = [self._registered(scope, command) for command in wanted]
        return Answer(200, self._world.commands[scope])

    def _create(self, call: Call) -> Answer:
        scope = self._scope(call)
        kept = [command for command in self._commands(call) if not _same(command, call.body.json)]
        existed = len(kept) < len(self._commands(call))
        check_commands([*kept, call.body.json])
        command = self._registered(scope, call.body.json)
        self._world.commands[scope] = [*kept, command]
        return Answer(200 if existed else 201, command)

    def _delete(self, call: Call) -> Answer:
        scope = self._scope(call)
        kept = [command for command in self._commands(call) if command["id"] != call.ids["command_id"]]
        if len(kept) == len(self._commands(call)):
            raise Refused(10063)
        self._world.commands[scope] = kept
        return Answer(204)

    def _registered(self, scope: int | None, command: Json) -> Json:
        """Return a command as stored: one of the same name keeps its id, a new one counts toward the day's 200."""
        known = next((other for other in self._world.commands.get(scope, []) if _same(other, command)), None)
        if known is None:
            day = (self._world.now.date().isoformat(), scope)
            self._created[day] += 1
            if self._created[day] > CREATES_A_DAY:
                raise Refused(30034)
        permissions = command.get("default_member_permissions")
        shape: Json = {
            "id": known["id"] if known else str(self._world.snowflakes.next()),
            "application_id": str(self._world.application_id),
            "version": str(self._world.snowflakes.next()),
            "type": command.get("type") or CHAT,
            "name": command["name"],
            "name_localizations": command.get("name_localizations"),
            "description": command.get("description") or "",
            "description_localizations": command.get("description_localizations"),
            "default_member_permissions": None if permissions is None else str(permissions),
            "nsfw": bool(command.get("nsfw")),
            "options": [_option(option) for option in command.get("options") or []],
        }
        if scope is not None:
            shape["guild_id"] = str(scope)
        else:
            shape["contexts"] = command.get("contexts")
            shape["integration_types"] = command.get("integration_types") or [0]
            dm_permission = command.get("dm_permission")
            shape["dm_permission"] = True if dm_permission is None else dm_permission
        return shape


def _same(one: Json, other: Json) -> bool:
    return one.get("name") == other.get("name") and (one.get("type") or CHAT) == (other.get("type") or CHAT)


def _option(option: Json) -> Json:
    """Return an option as the platform echoes it: nulls left out, nested options treated alike."""
    shape: dict[str, Any] = {key: value for key, value in option.items() if value is not None}
    if "options" in shape:
        shape["options"] = [_option(nested) for nested in shape["options"]]
    if "choices" in shape:
        shape["choices"] = [{k: v for k, v in choice.items() if v is not None} for choice in shape["choices"]]
    return shape
