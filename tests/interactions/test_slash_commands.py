"""The table of slash commands becomes what the platform is told."""

import ast
import re
from itertools import combinations
from pathlib import Path

import pytest

from bot.interactions.router import InteractionRouter
from bot.interactions.slash_commands import COMMANDS, AnyCommand, every_command
from tests.databases import new_store

MANAGE_SERVER = 1 << 5
"""The platform's bit for managing a server (its documentation of permissions)."""
WORDS = Path(__file__).parents[2] / "bot" / "words"
TYPED = re.compile(r"(?<![\w<`/.:\]])/([a-z][a-z-]+)(?![\w/.])")
"""A command in a sentence."""


@pytest.fixture
async def commands(tmp_path: Path) -> dict[str, AnyCommand]:
    async with new_store(tmp_path / "a.db") as store:
        return {one.name: one for one in every_command(InteractionRouter(store))}


def test_there_are_few_commands_and_no_two_look_alike() -> None:
    names = [one.name for one in COMMANDS]
    assert len(set(names)) == len(names) <= 18
    assert sum(one.audience == "everyone" for one in COMMANDS) <= 7
    for one, other in combinations(names, 2):
        assert not one.startswith(other[:4]) or len(other) < 4, (one, other)


async def test_what_is_for_helpers_alone_is_shown_to_no_student(commands: dict[str, AnyCommand]) -> None:
    hidden = {name for name, one in commands.items() if one.default_permissions is not None}
    assert hidden == {one.name for one in COMMANDS if one.audience == "managers"}
    assert {one.default_permissions.value for one in commands.values() if one.default_permissions} == {MANAGE_SERVER}
    shown = {name for name, one in commands.items() if one.allowed_contexts and one.allowed_contexts.guild} - hidden
    assert shown == {"my-squad", "sign-up", "brief", "hand-in", "book", "ask", "answers"}


async def test_judges_alone_type_in_direct_messages(commands: dict[str, AnyCommand]) -> None:
    private = {name for name, one in commands.items() if one.allowed_contexts and one.allowed_contexts.dm_channel}
    assert private == {"sheets"}


def test_every_command_that_a_text_names_is_there() -> None:
    named: dict[str, str] = {}
    for path in sorted(WORDS.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                named |= dict.fromkeys(TYPED.findall(node.value), path.name)
    assert "office" in named
    assert named.keys() <= {one.name for one in COMMANDS}, named
