"""What did not get as far as an action is answered: with the code of a fault where it is ours."""

import re
from typing import Any

import discord
import pytest
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.interactions.slash_commands import every_command
from tests.actions.conftest import Begin, begin  # noqa: F401
from tests.interactions.test_deferred_answers import Wire

CODE = re.compile(r"Something went wrong on my side, and nothing was changed. Tell your coach this code: [A-Z0-9-]+\.")


async def answered(begin: Begin, error: Any) -> Any:  # noqa: F811
    """What the person reads whose command failed with this error, or with one that is made for that command."""
    asking = await begin()
    wire: Any = Wire("", asking.now)
    wire.type = discord.InteractionType.application_command
    router = InteractionRouter(asking.store)
    router.in_flight.open()
    await router.refused(wire, error(every_command(router)[0]) if callable(error) else error)
    [(kind, said)] = wire.sent
    assert kind == "message"
    return said


def invoked(command: Any) -> app_commands.AppCommandError:
    return app_commands.CommandInvokeError(command, ValueError("Wanda"))


@pytest.mark.parametrize("error", [invoked, KeyError("Wanda")])
async def test_a_mistake_of_ours_is_answered_with_its_code_and_quotes_nobody(
    begin: Begin,  # noqa: F811
    caplog: pytest.LogCaptureFixture,
    error: Any,
) -> None:
    assert CODE.fullmatch(await answered(begin, error))
    assert caplog.text.count("fault ") == 1
    assert "Wanda" not in caplog.text


@pytest.mark.parametrize("error", [None, app_commands.CommandNotFound("invite", []), app_commands.AppCommandError("x")])
async def test_what_another_version_sent_is_no_fault(
    begin: Begin,  # noqa: F811
    caplog: pytest.LogCaptureFixture,
    error: Any,
) -> None:
    assert (await answered(begin, error)).startswith("I could not carry out this, so nothing was changed.")
    assert "fault" not in caplog.text
