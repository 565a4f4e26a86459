"""What may stand in a form and how much of it."""

from __future__ import annotations

from typing import Any

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot, button, form, label, row, select, text_input

Json = dict[str, Any]


def group(kind: int, count: int, **more: Any) -> Json:
    options = [{"label": f"o{n}", "value": str(n)} for n in range(count)]
    return {"type": kind, "custom_id": "group", "options": options} | more


def parts(count: int) -> list[Json]:
    return [label(text_input(f"t{n}")) for n in range(count)]


CASES: list[tuple[str, Json, Json]] = [
    ("title", form(*parts(1), title="x" * 45), form(*parts(1), title="x" * 46)),
    ("custom id", form(*parts(1), custom_id="x" * 100), form(*parts(1), custom_id="x" * 101)),
    ("parts", form(*parts(5)), form(*parts(6))),
    ("at least one part", form(*parts(1)), form()),
    ("label", form(label(text_input(), "x" * 45)), form(label(text_input(), "x" * 46))),
    (
        "description",
        form(label(text_input(), description="x" * 100)),
        form(label(text_input(), description="x" * 101)),
    ),
    ("value", form(label(text_input(value="x" * 4000))), form(label(text_input(value="x" * 4001)))),
    (
        "value within its own bound",
        form(label(text_input(value="xx", max_length=2))),
        form(label(text_input(value="xxx", max_length=2))),
    ),
    ("placeholder", form(label(text_input(placeholder="x" * 100))), form(label(text_input(placeholder="x" * 101)))),
    ("longest text", form(label(text_input(max_length=4000))), form(label(text_input(max_length=4001)))),
    ("shortest text", form(label(text_input(min_length=4000))), form(label(text_input(min_length=4001)))),
    ("longest is at least one", form(label(text_input(max_length=1))), form(label(text_input(max_length=0)))),
    ("radio options", form(label(group(21, 10))), form(label(group(21, 11)))),
    ("radio is a choice", form(label(group(21, 2))), form(label(group(21, 1)))),
    ("checkboxes", form(label(group(22, 10))), form(label(group(22, 11)))),
    (
        "files",
        form(label({"type": 19, "custom_id": "f", "max_values": 10})),
        form(label({"type": 19, "custom_id": "f", "max_values": 11})),
    ),
    ("selects are not disabled", form(label(select())), form(label(select(disabled=True)))),
    (
        "a lone checkbox is free",
        form(label({"type": 23, "custom_id": "c"})),
        form(label({"type": 23, "custom_id": "c", "required": True})),
    ),
    ("no buttons", form(*parts(1)), form(row(button()))),
    ("inputs stand in labels", form(label(select())), form(row(select()))),
    ("ids differ", form(*parts(2)), form(label(text_input("a")), label(text_input("a")))),
    (
        "text counts as a part",
        form({"type": 10, "content": "x"}, *parts(4)),
        form({"type": 10, "content": "x"}, *parts(5)),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[0])
async def test_a_form_fits_up_to_the_limit_and_not_beyond(case: Any, server: ClassServer) -> None:
    _, fits, too_much = case
    answers: list[Any] = []

    async def reply(bot: WireBot, event: Json) -> None:
        answers.append(await bot.callback(event, 9, too_much))
        answers.append(await bot.callback(event, 9, fits))

    async with WireBot(server, reply) as bot:
        await bot.connect()
        panel = await bot.call(
            "POST", f"/channels/{server.world.room('news').id}/messages", {"components": [row(button())]}
        )
        assert panel.status == 200
        phone = Phone(server, "Ada Quill")
        outcome = await phone.press(phone.see("news")[0], "Press")
    assert (answers[0].status, answers[0].code) == (400, 50035)
    assert "data" in answers[0].body["errors"]
    assert answers[1].status == 200, answers[1].body
    assert outcome.opened().custom_id == fits["custom_id"]
