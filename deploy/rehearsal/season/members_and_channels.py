"""The class server of a season before anything happens: its members with their roles, and its channels."""

from __future__ import annotations

from collections.abc import Sequence

from deploy.rehearsal.cast.people import CO_COACH, COACH, SCOREKEEPER, SECOND_SCOREKEEPER, Cast
from deploy.rehearsal.cast.stage import NEWS, OFFICE, ROOMS, SIGN_UP
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.world.permission_bits import MANAGE_GUILD, VIEW_CHANNEL
from deploy.rehearsal.world.state import Overwrite


def people_the_server(server: ClassServer, cast: Cast, guests: Sequence[str] = ()) -> None:
    """Let everybody join the class server and make its channels; the office is for coaches alone."""
    world = server.world
    staff = world.add_role("staff", MANAGE_GUILD)
    helpers = world.add_role("helpers")
    world.add_person(COACH, staff, owner=True)
    for name in (SCOREKEEPER, SECOND_SCOREKEEPER):
        world.add_person(name, helpers)
    for name in cast.judges:
        world.add_person(name, helpers)
    for name in (*cast.students, *guests):
        if name != cast.linked:
            world.add_person(name)
    seconds = [name for name in guests if name == CO_COACH]
    for channel in (SIGN_UP, NEWS, ROOMS):
        world.add_channel(channel)
    everyone = Overwrite(world.guild_id, for_person=False, deny=VIEW_CHANNEL)
    bot_too = Overwrite(world.bot.id, for_person=True, allow=VIEW_CHANNEL)
    coaches = [Overwrite(world.person(name).id, for_person=True, allow=VIEW_CHANNEL) for name in (COACH, *seconds)]
    world.add_channel(OFFICE, everyone, *coaches, bot_too)
