"""Each limit of a message and its components, once at its edge and once beyond."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot, button, row, select, upload

Json = dict[str, Any]
V2 = 1 << 15
PNG = b"\x89PNG\r\n\x1a\n" + b"\x00\x00\x00\rIHDR" + (640).to_bytes(4, "big") + (480).to_bytes(4, "big")


def buttons(count: int, per_row: int = 5) -> list[Json]:
    made = [button(custom_id=f"b{n}") for n in range(count)]
    return [row(*made[start : start + per_row]) for start in range(0, count, per_row)]


def option(**parts: Any) -> Json:
    return row(select(options=[{"label": "a", "value": "b"} | parts]))


FITS_AND_DOES_NOT: list[tuple[str, Json, Json, str]] = [
    ("content", {"content": "x" * 2000}, {"content": "x" * 2001}, "content"),
    ("nonce", {"content": "x", "nonce": "n" * 25}, {"content": "x", "nonce": "n" * 26}, "nonce"),
    ("rows", {"components": buttons(5, 1)}, {"components": buttons(6, 1)}, "components"),
    ("buttons in a row", {"components": buttons(5)}, {"components": buttons(6, 6)}, "components.0.components"),
    (
        "a select fills its row",
        {"components": [row(select())]},
        {"components": [row(select(), button())]},
        "components.0.components",
    ),
    (
        "button label",
        {"components": [row(button("x" * 80))]},
        {"components": [row(button("x" * 81))]},
        "components.0.components.0.label",
    ),
    (
        "custom id",
        {"components": [row(button(custom_id="x" * 100))]},
        {"components": [row(button(custom_id="x" * 101))]},
        "components.0.components.0.custom_id",
    ),
    (
        "custom id is there",
        {"components": [row(button(custom_id="x"))]},
        {"components": [row(button(custom_id=""))]},
        "components.0.components.0.custom_id",
    ),
    (
        "custom ids differ",
        {"components": [row(button(custom_id="a"), button(custom_id="b"))]},
        {"components": [row(button(custom_id="a"), button(custom_id="a"))]},
        "components.0.components.1.custom_id",
    ),
    (
        "link",
        {"components": [row({"type": 2, "style": 5, "label": "x", "url": "https://a.invalid/" + "x" * 494})]},
        {"components": [row({"type": 2, "style": 5, "label": "x", "url": "https://a.invalid/" + "x" * 495})]},
        "components.0.components.0.url",
    ),
    (
        "placeholder",
        {"components": [row(select(placeholder="x" * 150))]},
        {"components": [row(select(placeholder="x" * 151))]},
        "components.0.components.0.placeholder",
    ),
    (
        "options",
        {"components": [row(select(25))]},
        {"components": [row(select(26))]},
        "components.0.components.0.options",
    ),
    (
        "min values",
        {"components": [row(select(25, min_values=25, max_values=25))]},
        {"components": [row(select(25, min_values=26, max_values=25))]},
        "components.0.components.0.min_values",
    ),
    (
        "option label",
        {"components": [option(label="x" * 100)]},
        {"components": [option(label="x" * 101)]},
        "components.0.components.0.options.0.label",
    ),
    (
        "option value",
        {"components": [option(value="x" * 100)]},
        {"components": [option(value="x" * 101)]},
        "components.0.components.0.options.0.value",
    ),
    (
        "option description",
        {"components": [option(description="x" * 100)]},
        {"components": [option(description="x" * 101)]},
        "components.0.components.0.options.0.description",
    ),
    (
        "mentioned people",
        {"content": "x", "allowed_mentions": {"users": [str(n) for n in range(100)]}},
        {"content": "x", "allowed_mentions": {"users": [str(n) for n in range(101)]}},
        "allowed_mentions.users",
    ),
    (
        "parse excludes the list",
        {"content": "x", "allowed_mentions": {"parse": ["roles"], "users": ["1"]}},
        {"content": "x", "allowed_mentions": {"parse": ["users"], "users": ["1"]}},
        "allowed_mentions",
    ),
]


@pytest.mark.parametrize("case", FITS_AND_DOES_NOT, ids=lambda case: case[0])
async def test_a_message_fits_up_to_the_limit_and_not_beyond(case: Any, bot: WireBot, sign_up: str) -> None:
    _, fits, too_much, place = case
    good = await bot.call("POST", sign_up, fits)
    assert good.status == 200, good.body
    bad = await bot.call("POST", sign_up, too_much)
    assert (bad.status, bad.code) == (400, 50035)
    node = bad.body["errors"]
    for part in place.split("."):
        node = node[part]
    assert _leaves(node), f"no error under {place}: {bad.body}"


def _leaves(node: Json) -> list[Json]:
    own = list(node.get("_errors", []))
    for key, value in node.items():
        if key != "_errors":
            own += _leaves(value)
    assert all(set(leaf) == {"code", "message"} for leaf in own)
    return own


async def test_an_empty_message_is_refused(bot: WireBot, sign_up: str) -> None:
    bodies: list[Json] = [{}, {"content": ""}, {"content": " \n"}, {"components": []}]
    for body in bodies:
        assert (await bot.call("POST", sign_up, body)).code == 50006


async def test_ten_files_with_alt_text_fit_and_eleven_do_not(bot: WireBot, sign_up: str) -> None:
    names = [{"id": n, "filename": f"{n}.png", "description": "d" * 1024} for n in range(11)]
    good = await bot.call("POST", sign_up, data=upload({"attachments": names[:10]}, *[PNG] * 10))
    assert good.status == 200, good.body
    assert [a["description"] for a in good.body["attachments"]] == ["d" * 1024] * 10
    assert (good.body["attachments"][0]["width"], good.body["attachments"][0]["height"]) == (640, 480)
    bad = await bot.call("POST", sign_up, data=upload({"attachments": names}, *[PNG] * 11))
    assert bad.code in (30015, 50035)
    names[0]["description"] = "d" * 1025
    long = await bot.call("POST", sign_up, data=upload({"attachments": names[:1]}, PNG))
    assert "description" in long.body["errors"]["attachments"]["0"]


async def test_a_file_of_ten_mebibytes_fits_and_one_byte_more_does_not(bot: WireBot, sign_up: str) -> None:
    name = [{"id": 0, "filename": "big.bin"}]
    whole = 10 * 1024 * 1024
    assert (await bot.call("POST", sign_up, data=upload({"attachments": name}, b"x" * whole))).status == 200
    assert (await bot.call("POST", sign_up, data=upload({"attachments": name}, b"x" * (whole + 1)))).code == 50045


async def test_an_edit_is_measured_like_a_message(bot: WireBot, sign_up: str) -> None:
    message = (await bot.call("POST", sign_up, {"content": "x"})).body["id"]
    assert (await bot.call("PATCH", f"{sign_up}/{message}", {"content": "x" * 2001})).code == 50035
    assert (await bot.call("PATCH", f"{sign_up}/{message}", {"content": None})).code == 50006
    assert (await bot.call("PATCH", f"{sign_up}/{message}", {"content": "y"})).body["content"] == "y"


NOT_HERE: list[tuple[Json, str]] = [
    ({"embeds": [{"title": "boxed"}]}, "embeds"),
    ({"poll": {"question": {"text": "Who?"}}}, "poll"),
    ({"sticker_ids": ["1"]}, "sticker_ids"),
    ({"flags": V2, "components": [{"type": 10, "content": "laid out"}]}, "flags"),
    ({"components": [{"type": 10, "content": "laid out"}]}, "components"),
    ({"components": [row(select() | {"type": 6})]}, "components"),
    ({"components": [row(select() | {"type": 7})]}, "components"),
]


@pytest.mark.parametrize(("more", "where"), NOT_HERE)
async def test_what_the_class_server_does_not_know_is_refused_and_not_passed_over(
    more: Json, where: str, bot: WireBot, sign_up: str
) -> None:
    message = (await bot.call("POST", sign_up, {"content": "x"})).body["id"]
    for method, path in (("POST", sign_up), ("PATCH", f"{sign_up}/{message}")):
        refused = await bot.call(method, path, {"content": "y"} | more)
        assert (refused.status, refused.code) == (400, 50035)
        assert _leaves(refused.body["errors"][where])


async def test_an_edit_drops_the_files_it_does_not_name(bot: WireBot, sign_up: str) -> None:
    names = [{"id": n, "filename": f"{n}.png"} for n in range(2)]
    message = (await bot.call("POST", sign_up, data=upload({"content": "x", "attachments": names}, PNG, PNG))).body
    path = f"{sign_up}/{message['id']}"
    assert len((await bot.call("PATCH", path, {"content": "y"})).body["attachments"]) == 2
    kept = {"attachments": [{"id": message["attachments"][1]["id"]}]}
    assert [a["filename"] for a in (await bot.call("PATCH", path, kept)).body["attachments"]] == ["1.png"]


async def test_an_old_message_takes_only_so_many_edits(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    message = (await bot.call("POST", sign_up, {"content": "x"})).body["id"]
    path = f"{sign_up}/{message}"
    await server.clock.step_to(server.clock.now + timedelta(hours=1, seconds=1))
    answers = []
    for number in range(31):
        answers.append(await bot.call("PATCH", path, {"content": str(number)}))
        while answers[-1].status == 429 and answers[-1].body.get("code") != 30046:
            answers[-1] = await bot.call("PATCH", path, {"content": str(number)})
    assert [a.status for a in answers[:30]] == [200] * 30
    assert (answers[30].status, answers[30].code) == (429, 30046)
