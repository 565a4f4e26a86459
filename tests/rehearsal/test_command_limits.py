"""Limits of slash commands."""

from __future__ import annotations

from typing import Any

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot

Json = dict[str, Any]


def command(name: str = "squad", **more: Any) -> Json:
    return {"name": name, "description": "d", "type": 1} | more


def option(kind: int = 3, name: str = "o", **more: Any) -> Json:
    return {"type": kind, "name": name, "description": "d"} | more


def named(count: int, **more: Any) -> list[Json]:
    return [command(f"c{n}", **more) for n in range(count)]


def choices(count: int, name: str = "c") -> list[Json]:
    return [{"name": f"{name}{n}", "value": str(n)} for n in range(count)]


def menus(count: int, kind: int) -> list[Json]:
    return [{"name": f"Menu {n}", "type": kind} for n in range(count)]


CASES: list[tuple[str, list[Json], list[Json]]] = [
    ("count", named(100), named(101)),
    ("user menus", menus(15, 2), menus(16, 2)),
    ("message menus", menus(15, 3), menus(16, 3)),
    ("name", [command("x" * 32)], [command("x" * 33)]),
    ("lower case", [command("squad")], [command("Squad")]),
    ("letters", [command("a-b_c'd")], [command("a b")]),
    ("names differ", named(2), [command(), command()]),
    ("description", [command(description="x" * 100)], [command(description="x" * 101)]),
    (
        "options",
        [command(options=[option(name=f"o{n}") for n in range(25)])],
        [command(options=[option(name=f"o{n}") for n in range(26)])],
    ),
    ("choices", [command(options=[option(choices=choices(25))])], [command(options=[option(choices=choices(26))])]),
    (
        "choices or autocomplete",
        [command(options=[option(autocomplete=True)])],
        [command(options=[option(autocomplete=True, choices=choices(1))])],
    ),
    (
        "required first",
        [command(options=[option(name="a", required=True), option(name="b")])],
        [command(options=[option(name="a"), option(name="b", required=True)])],
    ),
    (
        "depth",
        [command(options=[option(2, "g", options=[option(1, "s", options=[option()])])])],
        [command(options=[option(2, "g", options=[option(2, "h", options=[option(1, "s")])])])],
    ),
    ("a parent does not run", [command(options=[option(1)])], [command(options=[option(1), option(3, "x")])]),
    (
        "whole size",
        [
            command(
                options=[
                    option(name=f"o{n}", choices=[{"name": f"{n:02}" + "x" * 98, "value": "y" * 100}])
                    for n in range(25)
                ]
            )
        ],
        [
            command(
                options=[
                    option(
                        name=f"o{n}", choices=[{"name": f"{n}-{m}" + "x" * 90, "value": "y" * 100} for m in range(2)]
                    )
                    for n in range(25)
                ]
            )
        ],
    ),
    ("numbers", [command(options=[option(4, max_value=2**53 - 1)])], [command(options=[option(4, max_value=2**53)])]),
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])
async def test_commands_fit_up_to_the_limit_and_not_beyond(case: Any, server: ClassServer, bot: WireBot) -> None:
    _, fits, too_much = case
    path = f"/applications/{server.world.application_id}/commands"
    bad = await bot.call("PUT", path, too_much)
    assert (bad.status, bad.code) == (400, 50035)
    good = await bot.call("PUT", path, fits)
    assert good.status == 200, good.body
    assert [c["name"] for c in good.body] == [c["name"] for c in fits]
    assert all({"id", "application_id", "version"} <= set(c) for c in good.body)


async def test_two_hundred_new_commands_a_day_and_not_one_more(server: ClassServer, bot: WireBot) -> None:
    path = f"/applications/{server.world.application_id}/guilds/{server.world.guild_id}/commands"
    for batch in range(2):
        assert (await bot.call("PUT", path, [command(f"b{batch}-{n}") for n in range(100)])).status == 200
    assert (await bot.call("PUT", path, [command(f"b1-{n}") for n in range(100)])).status == 200, (
        "unchanged ones are free"
    )
    assert (await bot.call("PUT", path, [command("one-more")])).code == 30034


async def test_an_empty_overwrite_wipes_the_commands_of_the_guild(server: ClassServer, bot: WireBot) -> None:
    path = f"/applications/{server.world.application_id}/guilds/{server.world.guild_id}/commands"
    await bot.call("PUT", path, [command()])
    assert Phone(server, "Ada Quill").commands("sign-up") == ["/squad"]
    await bot.call("PUT", path, [])
    assert Phone(server, "Ada Quill").commands("sign-up") == []


async def test_default_permissions_hide_a_command_until_an_administrator_opens_it(
    server: ClassServer, bot: WireBot
) -> None:
    path = f"/applications/{server.world.application_id}/commands"
    await bot.call("PUT", path, [command("office", default_member_permissions=1 << 5, contexts=[0]), command("help")])
    assert Phone(server, "Ada Quill").commands("sign-up") == ["/help"]
    assert Phone(server, "Ms Holloway").commands("sign-up") == ["/help", "/office"]
    Phone(server, "Ada Quill").command("/office", room="sign-up", overridden=True)
