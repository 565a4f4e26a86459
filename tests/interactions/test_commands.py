"""The table of slash commands becomes what the platform is told."""

from pathlib import Path

from bot.interactions.commands import COMMANDS, GROUPS, every_command
from bot.interactions.router import InteractionRouter
from tests.databases import new_store

MANAGE_SERVER = 1 << 5
"""The platform's bit for managing a server (its documentation of permissions)."""


def test_every_command_stands_in_the_table_once_and_no_group_is_empty() -> None:
    names = [(one.group, one.name) for one in COMMANDS]
    assert len(set(names)) == len(names)
    assert {group for group, _ in names if group} == set(GROUPS)


async def test_what_is_for_the_coach_alone_is_shown_to_no_student(tmp_path: Path) -> None:
    async with new_store(tmp_path / "a.db") as store:
        commands = every_command(InteractionRouter(store))
    hidden = {one.name: one.default_permissions for one in commands if one.default_permissions is not None}
    assert hidden.keys() == {"office", "plan", "judges", "results"}
    assert {one.value for one in hidden.values()} == {MANAGE_SERVER}


async def test_judges_alone_can_type_in_direct_messages(tmp_path: Path) -> None:
    async with new_store(tmp_path / "a.db") as store:
        commands = every_command(InteractionRouter(store))
    assert {one.name for one in commands if not one.guild_only} == {"judge"}
