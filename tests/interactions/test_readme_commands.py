"""The README and the commands say the same."""

import re
from pathlib import Path

import pytest

from bot.interactions.router import InteractionRouter
from bot.interactions.slash_commands import every_command
from bot.rules.office.server_channels import PERMISSIONS
from tests.databases import new_store

README = (Path(__file__).parents[2] / "README.md").read_text("utf-8")


@pytest.fixture
async def names(tmp_path: Path) -> set[str]:
    found = set()
    async with new_store(tmp_path / "a.db") as store:
        for command in every_command(InteractionRouter(store)):
            found.add(f"/{command.qualified_name}")
    return found


async def test_every_command_stands_in_the_readme_and_none_that_is_gone(names: set[str]) -> None:
    table = README.split("## Commands in the chat")[1].split("## How the result")[0]
    assert set(re.findall(r"`(/[a-z -]+)`", table)) == names


async def test_every_command_and_option_is_described(tmp_path: Path) -> None:
    async with new_store(tmp_path / "a.db") as store:
        for command in every_command(InteractionRouter(store)):
            assert len(command.description) > 10
            assert all(option.description not in ("", "…") for option in command.parameters), command.qualified_name


def test_the_invite_asks_for_what_the_bot_says_it_needs() -> None:
    assert README.count(str(PERMISSIONS)) == 2


def test_what_the_readme_shows_is_there() -> None:
    for path in re.findall(r'(?:src="|\]\()(?!https?:)([\w./-]+)', README):
        assert (Path(__file__).parents[2] / path).exists(), path
