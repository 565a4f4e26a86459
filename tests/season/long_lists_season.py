"""A short season of one section with more squads than a list of the platform holds: whoever is in it turns pages.

Not everything happens in it that happens in a season; what people type is typed in one line, as in a hurry.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

from deploy.rehearsal.cast import (
    end_of_tryout,
    helpers,
    invitation_to_judge,
    preview_and_announcement,
    score_sheets_and_close,
    sign_up,
    try_out_setup,
)
from deploy.rehearsal.cast.brief_and_build_days import told_moment
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER, Cast, Group, invent_cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office, in_room, walk
from deploy.rehearsal.cast.questions import ASK
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage, newest
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.season.bot_process import BotProcess
from deploy.rehearsal.season.members_and_channels import people_the_server
from deploy.rehearsal.season.season_settings import WEEK_BEFORE
from deploy.rehearsal.server.class_server import ClassServer
from tests.season.expected_outcome import Oracle

PLAN = """
name = "Sock sorting"
zone = "America/New_York"
sections = ["7 Ash"]
places = 1
brief = "Sort the socks, and say why."
[squads]
smallest = 1
largest = 2
[calendar]
brief = 2027-01-11T15:30:00
days = 2
[[events]]
key = "sorting"
name = "Sock sorting"
weight = 3
about = "Sort the socks by what is on them."
[[events.measures]]
kind = "count"
key = "socks"
name = "Sorted socks"
items = [
    { key = "stripes", name = "Red-and-white striped sock", points = 1, most = 9 },
    { key = "dots", name = "Blue-and-green dotted sock", points = 2, most = 9 },
    { key = "stars", name = "Bright yellow starry sock", points = 3, most = 9 },
    { key = "moles", name = "Very small woollen sock", points = 4, most = 9 },
    { key = "holes", name = "Mended old walking sock", points = 5, most = 9 },
]
attempts = 10
maximum = 135
scale = "maximum"
[[events]]
key = "why"
name = "Why so"
weight = 1
about = "Say why you have sorted them so."
[[events.measures]]
kind = "rubric"
key = "why"
name = "What they say"
[[events.measures.criteria]]
key = "reason"
name = "One reason"
levels = ["None.", "One.", "One, and an example.", "It convinces."]
"""
"""Five kinds of things to count, so that points off have a form of their own."""
ZONE, BRIEF = "America/New_York", datetime(2027, 1, 11, 15, 30)  # noqa: DTZ001 - local by meaning
SQUADS, JUDGES, LEVELS = 26, 2, 4
QUESTIONS = 26
LAST = 9
"""The last attempt of the squad that makes all ten, from 0; it is its best."""
SHORTENED = f"squad {SQUADS} read None for"
"""Ten attempts in words leave no room for the judges' lines in its own result: there is the picture."""
ALONE = "Zola Z"
"""Comes alone, and looks through the whole section."""


@dataclass
class LargeClass:
    """The season of a large class, played to its announcement."""

    stage: Stage
    cast: Cast
    typed: Counter[tuple[int, ...]] = field(default_factory=Counter)
    """What was typed at the table: the squad's number, what was counted of each kind, and the points off."""
    marked: Counter[tuple[str, int]] = field(default_factory=Counter)
    """What the judges typed: the squad's name, and the level."""

    @property
    def kinds(self) -> set[str]:
        """The kinds of buttons and forms that somebody has used."""
        return {custom_id.split(":")[0] for custom_id in self.stage.server.interactions.custom_ids}

    @property
    def packet(self) -> dict[str, Any]:
        """The results packet, as the coach downloaded it."""
        coach = self.stage.coach
        files = [file for shown in coach.see(OFFICE) for file in shown.files if file.name.endswith(".json")]
        found: dict[str, Any] = json.loads(coach.download(files[-1]))
        return found

    def complaints(self) -> list[str]:
        """Everything that is not as it must be: what was typed is in the packet, and what was told is what it gives."""
        packet = self.packet
        oracle = Oracle([entry.as_json() for entry in self.stage.server.transcript.entries], packet, without=0)
        lines = [
            [line["items"][item] for item in ("stripes", "dots", "stars", "moles", "holes")]
            for line in packet["attempts"]
        ]
        kept = Counter(
            (line["squad"], *counts, int(line["deductions"]))
            for line, counts in zip(packet["attempts"], lines, strict=True)
        )
        marks = Counter((oracle.names[line["squad"]], line["marks"]["reason"]) for line in packet["sheets"])
        return [
            *oracle.results_recomputed(),
            *(said for said in oracle.results_told() if not said.startswith(SHORTENED)),
            *oracle.winners_announced(),
            *(f"typed and not kept, or kept and not typed: {one}" for one in (kept - self.typed) + (self.typed - kept)),
            *(f"marked and not kept, or the reverse: {one}" for one in (marks - self.marked) + (self.marked - marks)),
        ]


async def play(out: Path) -> LargeClass:
    """Play it; raises `CastMistake` where something is not on the screen that should be."""
    cast = invent_cast(Random(1), ["7 Ash"], 1, 2, SQUADS, JUDGES)
    cast.groups = [Group(group.name, group.section, group.people[:1]) for group in cast.groups]
    cast.lonely = {ALONE: "7 Ash"}
    async with ClassServer(BRIEF.astimezone() - WEEK_BEFORE) as server:
        people_the_server(server, cast)
        bot = BotProcess(server, out / "tenbell.db", out / "bot.log")
        await bot.start()
        season = LargeClass(Stage(server, Random(1), 1, zone=ZONE), cast)
        try:
            await _signs_up(season)
            await _asks(season)
            await _is_scored(season)
            await _is_told(season)
        finally:
            await bot.stop()
        return season


async def _signs_up(season: LargeClass) -> None:
    """Everybody founds a squad of one; somebody who comes alone looks at all of them, and at everybody."""
    stage, cast = season.stage, season.cast
    await try_out_setup.begin(stage, PLAN.encode(), BRIEF, ZONE, ["7 Ash"])
    await helpers.scorekeepers(stage, SCOREKEEPER)
    await try_out_setup.open_sign_up(stage)
    await invitation_to_judge.ask_judges(stage, cast)
    for group in cast.groups:
        await sign_up.found(stage, group)
    phone = stage.phone(ALONE)
    who = {"Your name": ALONE, "Your section": "7 Ash"}
    looking = await stage.do(lambda: phone.press(sign_up.panel(phone), sign_up.LOOKING))
    last = await walk(stage, ALONE, looking, who, "Who I want to be with", "Next page")
    await walk(stage, ALONE, last, Pick("With"))
    listed = await stage.do(lambda: phone.press(sign_up.panel(phone), sign_up.JOIN))
    await walk(stage, ALONE, listed, "Next page", Pick("Pick your squad"))
    way = ("Judges", "Panels")
    await in_office(stage, *way, Pick("How many judges", ("2 judges",)), "Next page")
    await in_office(stage, *way, Pick("How many judges", ("All judges",)))
    await in_office(stage, "Release the brief now", "Yes, release the brief")


async def _asks(season: LargeClass) -> None:
    """The class asks more than stands in one list; what somebody asks once more has its answer already."""
    stage, cast = season.stage, season.cast
    for number in range(1, QUESTIONS + 1):
        typed = {"The question": f"Does sock number {number} count?", "Your answer": "It does, like all others."}
        await in_office(stage, "Answer a question from class", typed, "Publish", line="/questions")
    await in_office(stage, "Next page", line="/questions")
    asked = {"Your question": "Does the very first sock count?"}
    await in_room(stage, cast.groups[0].people[0], NEWS, ASK, asked)
    card = newest(stage.coach, OFFICE, "the very first sock")
    await walk(stage, COACH, card, "Merge", "Next page", Pick("Pick an answer"), "Yes, it does")


async def _is_scored(season: LargeClass) -> None:
    """The coach lets the judges begin; they type their marks, and the coach types each attempt in one line."""
    stage = season.stage
    await in_office(stage, "Open for judging", Pick("Pick an event"), line="/judges")
    for name in season.cast.judges:
        await _mark(season, name)
    measure = (await stage.coach.suggest("/score", "measure", "sock", room=OFFICE)).suggestions[0][1]
    for number in range(1, SQUADS + 1):
        squad = (await stage.coach.suggest("/score", "squad", f"{number} ", room=OFFICE)).suggestions[0][1]
        eager = number == SQUADS
        for turn in range(LAST + 1 if eager else 1):
            line = " ".join(str(9 if turn == LAST else 4 + (number + turn + place) % 5) for place in range(5))
            await _record(season, number, (squad, measure, line), "2" if turn == 1 else "")
    out = newest(stage.coach, NEWS, "the brief is out")
    await stage.until(told_moment(out.text, "The deadline is"))
    await score_sheets_and_close.close(stage)


async def _mark(season: LargeClass, name: str) -> None:
    """A judge types the number of a level for each squad that comes next."""
    stage, judge = season.stage, season.stage.phone(name)
    for place in range(SQUADS):
        level = 1 + stage.chance(name, place).randrange(LEVELS)
        await stage.moment()
        said = (await judge.type_dm(str(level))).text
        season.marked[said.split("**")[1], level] += 1


async def _record(season: LargeClass, number: int, typed: tuple[str, str, str], off: str) -> None:
    """One attempt in one line, read back; where points are taken off, they have a form of their own."""
    stage = season.stage
    squad, measure, line = typed
    values = {"squad": squad, "measure": measure, "value": line}
    read: Outcome = await stage.do(partial(stage.coach.command, "/score", values, room=OFFICE))
    points: tuple[Step, ...] = ("Points off", {"Points off": off}) if off else ()
    await walk(stage, COACH, read, *points, "Save")
    season.typed[number, *map(int, line.split()), int(off or 0)] += 1


async def _is_told(season: LargeClass) -> None:
    """The coach reads the result to its last page, announces it, looks through all feedback, and puts it all away."""
    stage, eager = season.stage, season.cast.groups[-1].name
    await in_office(stage, "Next page", line="/results")
    await in_office(stage, "Squad by squad", Pick("Which squad?", (eager,)), "Next page", line="/results")
    await preview_and_announcement.announce(stage)
    await in_office(stage, "Offer the place", "Feedback for squads", "Next page")
    season.stage.facts["found"] = str((await stage.coach.suggest("/people", "find", "Zol", room=OFFICE)).suggestions)
    await end_of_tryout.put_away(stage, season.cast)
    gone = await in_office(stage, "Earlier try-outs", Pick("Erase all names"), "Yes, erase")
    season.stage.facts["erased"] = gone.text
