"""What a rehearsal leaves for people to look at."""

from __future__ import annotations

from deploy.rehearsal.season.output_page import announced_picture, first_figures, lead, weights
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot, upload

FIGURES = {
    "students": 60,
    "squads": 14,
    "sheets": {"due": 84, "submitted": 83},
    "reminders": {"planned": 11, "sent": 10},
    "acknowledged": 400,
    "lost": 0,
    "doubled": 0,
    "ack_ms": {"p50": None, "p99": None, "max": None},
    "kills": 0,
}


def test_the_lead_names_who_comes_first_and_every_one_of_a_tie() -> None:
    rows = [{"rank": 1, "squad": "Moles"}, {"rank": 1, "squad": "Foxes"}, {"rank": 3, "squad": "Cats"}]
    assert "Moles comes first" in lead(rows[:1])
    assert "Moles and Foxes come first" in lead(rows)
    assert "No squad has a place yet" in lead([])


def test_the_figures_tell_what_is_missing_and_leave_out_what_was_not_measured() -> None:
    shown = {one.meaning: one.value for one in first_figures(FIGURES)}
    assert shown["score sheets handed in"] == "83 of 84"
    assert shown["reminders sent"] == "10 of 11"
    assert not any("99 of 100" in meaning or "killed" in meaning for meaning in shown)
    killed = {one.meaning: one.value for one in first_figures(FIGURES | {"kills": 3, "ack_ms": {"p99": 41.2}})}
    assert killed["99 of 100 answers came within"] == "41 ms"
    assert killed["times the bot was killed on purpose"] == "3"


def test_the_weights_are_those_of_the_plan() -> None:
    plan = {"events": [{"name": "Run", "weight": 40}, {"name": "Patch", "weight": 60}]}
    assert weights(plan) == {"Run": "counts 40 of 100", "Patch": "counts 60 of 100"}


async def test_the_picture_is_the_last_one_everybody_was_shown(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    assert announced_picture(server.transcript) is None
    picture = {"attachments": [{"id": 0, "filename": "standings.png"}]}
    for data in (b"first", b"second"):
        await bot.call("POST", sign_up, data=upload(picture, data))
    news = server.world.room("news").id
    thread = (await bot.call("POST", f"/channels/{news}/threads", {"name": "Moles", "type": 12})).body["id"]
    await bot.call("POST", f"/channels/{thread}/messages", data=upload(picture, b"for one squad"))
    await bot.call("POST", sign_up, {"content": "thanks to all"})
    assert announced_picture(server.transcript) == b"second"
