"""Routes about the guild, its members and its roles."""

from __future__ import annotations

from deploy.rehearsal.server.rest_api import Answer, Call, Table
from deploy.rehearsal.wire.guild_objects import guild_shape, member_shape, role_shape, room_shape
from deploy.rehearsal.world.api_errors import Json, Refused
from deploy.rehearsal.world.permission_bits import MANAGE_ROLES
from deploy.rehearsal.world.permissions import guild_permissions
from deploy.rehearsal.world.state import DIRECT, Person, World


class MemberRoutes:
    """Serves the guild; listing all members needs a privileged intent and is therefore not allowed."""

    def __init__(self, world: World) -> None:
        self._world = world

    def table(self) -> Table:
        """Return the routes."""
        return {
            "GET /users/@me/guilds": self._guilds,
            "GET /guilds/{guild_id}": self._guild,
            "GET /guilds/{guild_id}/channels": self._channels,
            "GET /guilds/{guild_id}/roles": self._roles,
            "GET /guilds/{guild_id}/members": self._members,
            "GET /guilds/{guild_id}/members/search": self._search,
            "GET /guilds/{guild_id}/members/{user_id}": self._member,
            "PUT /guilds/{guild_id}/members/{user_id}/roles/{role_id}": self._give_role,
            "DELETE /guilds/{guild_id}/members/{user_id}/roles/{role_id}": self._take_role,
        }

    def _here(self, call: Call) -> None:
        if call.number("guild_id") != self._world.guild_id:
            raise Refused(10004)

    def _guilds(self, call: Call) -> Answer:
        guild: Json = {
            "id": str(self._world.guild_id),
            "name": self._world.name,
            "icon": None,
            "banner": None,
            "owner": False,
            "permissions": str(guild_permissions(self._world, self._world.bot)),
            "features": [],
        }
        return Answer(200, [guild])

    def _guild(self, call: Call) -> Answer:
        self._here(call)
        return Answer(200, guild_shape(self._world))

    def _channels(self, call: Call) -> Answer:
        self._here(call)
        rooms = [room for room in self._world.rooms.values() if room.kind != DIRECT and not room.is_thread]
        return Answer(200, [room_shape(self._world, room) for room in rooms])

    def _roles(self, call: Call) -> Answer:
        self._here(call)
        return Answer(200, [role_shape(role, self._world.bot.id) for role in self._world.roles.values()])

    def _members(self, call: Call) -> Answer:
        self._here(call)
        raise Refused(50001)

    def _search(self, call: Call) -> Answer:
        self._here(call)
        wanted = call.query.get("query", "").casefold()
        limit = call.asked("limit", 1)
        people = [p for p in self._world.people.values() if p.in_guild and p.name.casefold().startswith(wanted)]
        return Answer(200, [member_shape(person) for person in people[:limit]])

    def _person(self, call: Call) -> Person:
        self._here(call)
        person = self._world.people.get(call.number("user_id"))
        if person is None:
            raise Refused(10013)
        if not person.in_guild:
            raise Refused(10007)
        return person

    def _member(self, call: Call) -> Answer:
        return Answer(200, member_shape(self._person(call)))

    def _role_to_move(self, call: Call) -> int:
        """Return the role if the bot may give and take it: it needs MANAGE_ROLES and a higher role."""
        role = self._world.roles.get(call.number("role_id"))
        if role is None:
            raise Refused(10011)
        bot = self._world.bot
        highest = max(self._world.roles[own].position for own in bot.roles)
        if not guild_permissions(self._world, bot) & MANAGE_ROLES or role.position >= highest or role.managed:
            raise Refused(50013)
        return role.id

    def _give_role(self, call: Call) -> Answer:
        person, role = self._person(call), self._role_to_move(call)
        if role not in person.roles:
            person.roles.append(role)
        return Answer(204)

    def _take_role(self, call: Call) -> Answer:
        person, role = self._person(call), self._role_to_move(call)
        if role in person.roles:
            person.roles.remove(role)
        return Answer(204)
