"""What a rehearsal leaves for people to look at."""

from __future__ import annotations

from typing import Any

from deploy.rehearsal.season.figures_and_printed_standings import standings_text
from deploy.rehearsal.season.output_page import weights
from deploy.rehearsal.season.page_lead_and_figures import first_figures, who_was_there, who_won
from deploy.rehearsal.season.page_people_and_cards import Company, cards, index
from deploy.rehearsal.season.page_pictures import announced_picture
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.transcript import Entry, Transcript
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


def row(rank: int | None, squad: str, total: str, **events: str) -> dict[str, Any]:
    return {"rank": rank, "squad": squad, "total": total, "events": events}


def test_the_lead_says_who_won_by_how_much_and_because_of_what() -> None:
    rows = [row(1, "Moles", "88", Run="90", Flags="85"), row(2, "Foxes", "82", Run="80", Flags="85")]
    shares = {"Run": 0.6, "Flags": 0.4}
    won = "Moles won with 88.0 of 100 points, 6.0 ahead of Foxes: +6.0 in Run, level in Flags."
    assert who_won(rows, shares) == won
    assert who_won(rows[:1], shares) == "Moles won with 88.0 of 100 points."
    tied = [row(1, "Moles", "88"), row(1, "Foxes", "88")]
    assert who_won(tied, {}) == "Moles and Foxes came first with the same 88.0 points."
    assert who_won([row(None, "Moles", "")], {}) == who_won([], {}) == ""


async def test_the_lead_names_both_years_of_a_season_over_new_year_and_one_year_otherwise(server: ClassServer) -> None:
    company = Company({"Ada Quill": "7-A"}, {"Ada Quill": "Moles"}, ["Bea"])
    for began, words in (("2026-12-14", "14 December 2026 to 6 January"), ("2027-01-04", "4 January to 6 January")):
        transcript = Transcript(server.world)
        for day in (began, "2027-01-06"):
            transcript.entries.append(Entry(f"{day}T12:00:00+00:00", "news", (), "", "message", "Tenbell", {}))
        assert f"were there, from {words} 2027." in who_was_there(company, transcript, "America/New_York")


def test_the_figures_tell_what_is_missing_and_nothing_that_was_measured_in_seconds() -> None:
    shown = {one.meaning: one.value for one in first_figures(FIGURES)}
    assert shown["score sheets handed in"] == "83 of 84"
    assert shown["daily reminders to the class sent in time"] == "10 of 11"
    assert not any("cut off" in meaning for meaning in shown)
    killed = first_figures(FIGURES | {"kills": 3, "ack_ms": {"p99": 41.2}})
    assert {one.meaning: one.value for one in killed}["times the bot was cut off on purpose"] == "3"
    assert not any("41" in one.value for one in killed)


def test_the_terminal_rounds_half_up_as_page_and_bot_do() -> None:
    row = {"rank": 1, "squad": "Moles", "total": "75.25", "events": {"Run": "0.05", "Flags": ""}}
    assert standings_text([row]) == "  1. Moles   75.3   (Run 0.1)"


def test_the_weights_are_those_of_the_plan() -> None:
    plan = {"events": [{"name": "Run", "weight": 40}, {"name": "Patch", "weight": 60}]}
    assert weights(plan) == {"Run": 0.4, "Patch": 0.6}
    assert weights({"zone": "UTC"}) == {}


def test_people_stand_by_role_and_then_by_squad() -> None:
    company = Company({"Ada": "7-A", "Ben": "7-A", "Cleo": "7-B"}, {"Ben": "Moles", "Ada": "Otters"}, ["Dov"])
    assert [(one.name, one.group) for one in index(company)] == [
        ("Ms Okoro", "Who runs it"),
        ("Mr Lindqvist", "Who runs it"),
        ("Ms Abara", "Who runs it"),
        ("Dov", "Judges"),
        ("Ben", "Moles"),
        ("Ada", "Otters"),
        ("Cleo", "Without a squad"),
    ]


async def test_the_student_to_begin_with_is_one_who_has_joined_a_squad(server: ClassServer) -> None:
    def pressed(who: str, label: str) -> Entry:
        return Entry("2027-01-11T20:30:00+00:00", "sign-up", (who,), "", "press", who, {"label": label})

    shown = Transcript(server.world)
    starts = [pressed("Ada", "Start a squad"), pressed("Ada", "My squad"), pressed("Cato", "Start a squad")]
    shown.entries.extend([*starts, pressed("Ben", "Join a squad")])
    squads = {"Ada": "Moles", "Ben": "Moles", "Cato": "Herons"}
    company = Company(dict.fromkeys(squads, "7-A"), squads, [])
    assert cards(company, shown, [row(1, "Herons", "90")])[0].person == "Ben"


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
