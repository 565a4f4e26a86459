"""A season as short as it can be that goes through everything, with about ten power cuts, for one fault at a time.

Four squads, three judges, three days. It stops at the first thing that is not as it must be. It is played in a copy of
the program: another version is installed on the way.
"""

import argparse
import asyncio
import json
import re
import sys
import tempfile
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from random import Random

from deploy.rehearsal.cast import (
    attempt_entry,
    brief_and_build_days,
    event_day,
    feedback,
    hand_in,
    helpers,
    invitation_to_judge,
    place_offers,
    practice,
    preview_and_announcement,
    score_sheets_and_close,
    score_table,
    sign_up,
    students_admin,
    surprise,
    try_out_setup,
)
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER, invent_cast
from deploy.rehearsal.cast.stage import awaited
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.season.bot_process import BotDied, BotProcess
from deploy.rehearsal.season.early_bot import ROOT
from deploy.rehearsal.season.members_and_channels import people_the_server
from deploy.rehearsal.season.season_settings import Script
from deploy.rehearsal.server.class_server import Behaviour, ClassServer
from deploy.rehearsal.server.stepped_clock import ClockStuck
from deploy.rehearsal.wire.forms import Field
from deploy.rehearsal.wire.rendering import Option
from deploy.rehearsal.world.api_errors import Json
from tests.faults import bad_platform, forbidden_acts, season_invariants
from tests.faults.after_the_result import afterwards
from tests.faults.bad_platform import Trouble
from tests.faults.season_invariants import Noticed
from tests.faults.try_faults import MARK
from tests.faults.watched_season import Watched, WatchedSeason
from tests.season.expected_outcome import Oracle

SEED = 6
ZONE = "America/New_York"
SECTIONS = ["7 Ash", "7 Birch"]
BRIEF = datetime(2027, 1, 11, 15, 30)  # noqa: DTZ001 - local by meaning
LAST_HOURS = datetime(2027, 1, 14, 17, 30, tzinfo=UTC)
"""Three hours before the deadline, when what was due on the second day makes no sense any more."""
CHANGES = (
    ('sections = ["7 Ash", "7 Birch", "7 Cedar", "8 Elm", "8 Fir"]', 'sections = ["7 Ash", "7 Birch"]'),
    ("brief = 2026-10-12T15:30:00", "brief = 2027-01-11T15:30:00"),
    ("days = 10 ", "days = 3 "),
    ("smallest = 3", "smallest = 2"),
    ("largest = 5", "largest = 4"),
    ("retention_days = 60", "retention_days = 5"),
    ("# turns = 2 ", "turns = 1 "),
    ('name = "One idea"', 'name = "One idea"\nweight = 3'),
    ('official = "press" ', 'keep = "sum"\nofficial = "press" '),
    ("fault_seconds = 5\nattempts = 1", "fault_seconds = 5\nattempts = 2"),
)
"""The built-in plan, made short, with a line that counts more, and a time of two attempts that are added."""


@dataclass
class ShortSeason(WatchedSeason):
    """One season in a folder."""

    async def play(self) -> None:
        """Play it to its end."""
        stage = self.stage
        self.platform.listen()
        await self.begin()
        await self.move()
        await self.sign_up()
        await self.days()
        await self.event_day()
        await self.judging()
        await self.result()
        await stage.wait(hours=1)
        await self.look_back()
        for complaint in self.oracle().complaints():
            raise Noticed(complaint)
        await afterwards(self)

    async def begin(self) -> None:
        """Set up, and ask the judges."""
        stage, cast = self.stage, self.cast
        await try_out_setup.begin(stage, plan_of(ROOT).encode(), BRIEF, ZONE, SECTIONS)
        await helpers.scorekeepers(stage, SCOREKEEPER)
        await try_out_setup.open_sign_up(stage)
        await invitation_to_judge.ask_judges(stage, cast)

    async def sign_up(self) -> None:
        """Squads form; people try what they may not; a broken version is installed and taken back, then a good one."""
        stage, cast = self.stage, self.cast
        kept = await awaited(stage, lambda: sign_up.panel(stage.phone(cast.late)))
        await sign_up.play(stage, cast)
        await self.power_cut()
        codes: dict[str, str] = {}
        for group in cast.groups:
            for name in group.people:
                found = re.findall(r"\*\*([A-Z]{5})\*\*", await sign_up.my_squad(stage, name))
                codes |= {group.name: found[-1]} if found else {}
        self.free = next(one for one in cast.groups[1::2] if one.name in codes)
        await forbidden_acts.strange_squads(stage, cast, codes)
        await forbidden_acts.mallory_joins(stage, self.free, codes[self.free.name])
        await forbidden_acts.roles(stage, cast)
        await forbidden_acts.odd_keys(stage, cast)
        await forbidden_acts.two_records(stage, cast.last_lonely, cast.lonely[cast.last_lonely])
        await students_admin.place_lonely(stage, cast.last_lonely)
        await self.other_versions()
        self.look()
        await self.look_back()
        self.platform.troubles += [
            Trouble(r"The brief is out\.\*\* <@", "unheard"),
            Trouble(r"Day 1 of", "killed"),
            Trouble(r"Still open for", "years"),
            Trouble(r"Day 2 of", "503", until=LAST_HOURS),
            Trouble(r"The last hours\*\*, until", "killed"),
            Trouble(r"The time is up", "503"),
            Trouble(r"Your result", "503"),
            Trouble(r"Your result\*\*: " + self.free.name, "killed"),
            Trouble(r"Feedback for", "unheard"),
        ]
        await brief_and_build_days.brief(stage, cast)
        await sign_up.too_late(stage, cast, kept)

    async def other_versions(self) -> None:
        """Install a version that forgets what hangs on a row: it must not start; then one that rebuilds a table."""
        folder = ROOT / "storage" / "migrations"
        number = 1 + max(int(path.name[:4]) for path in folder.glob("*.sql"))
        broken, good = bad_platform.next_versions(self.database)
        path = folder / f"{number:04}_next.sql"
        await self.bot.kill()
        before = season_invariants.rows(self.database)
        path.write_text(broken, "utf-8")
        with suppress(BotDied):
            await self.bot.start()
            raise Noticed("a version was put into service that lost what hangs on a squad")
        path.write_text(good, "utf-8")
        await self.bot.start()
        await self.stage.moment()
        await self.bot.kill()
        after = season_invariants.rows(self.database)
        emptied = [table for table, count in before.items() if after[table] < count]
        forbidden_acts.must(not emptied, f"a version that rebuilds a table has emptied {emptied}")
        await self.bot.start()

    async def days(self) -> None:
        """The days of the window."""
        stage, cast = self.stage, self.cast
        turns, parts = practice.Practice(stage, cast), hand_in.HandIn(stage, cast)
        self.day = event_day.EventDay(stage)

        async def mischief_of(number: int) -> None:
            if number == 0:
                await forbidden_acts.hostile_questions(stage, cast)
                bad_platform.as_a_helper_before(self.database, stage.phone(cast.groups[0].people[1]).person.id)
                await forbidden_acts.helper_of_before(stage, cast.groups[0].people[1])
            if number == 1:
                await forbidden_acts.everything_done(stage, self.free, parts)
                for group in cast.groups:
                    if await forbidden_acts.give_back_late(stage, group.name, group.people[0]):
                        break
            self.look()

        await brief_and_build_days.days(stage, cast, turns.day, parts.day, mischief_of, self.day.day)
        turns.remember()
        await self.power_cut()

    async def event_day(self) -> None:
        """Attempts, some with points off, one without a time; every press of the scorekeeper comes twice."""
        stage, cast = self.stage, self.cast
        await self.day.comes()
        await surprise.for_all(stage)
        self.server.gateway.event_faults = twice
        await score_table.play(stage, cast)
        self.server.gateway.event_faults = None
        await self.power_cut()
        self.look()

    async def judging(self) -> None:
        """Judges mark; one of them advises only, one steps back, one judges on another server, too."""
        stage, cast = self.stage, self.cast
        await forbidden_acts.strange_sheet(stage, cast)
        await forbidden_acts.paper_twice(stage, cast.judges[1])
        await forbidden_acts.advisory(stage, cast.judges[2])
        account = stage.phone(cast.judges[0]).person.id
        await self.bot.kill()
        bad_platform.as_of_two_servers(self.database, account)
        await self.bot.start()
        await score_sheets_and_close.mark_all(stage, cast, cast.judges[0])
        await self.bot.kill()
        bad_platform.without_the_other_server(self.database)
        await self.bot.start()
        for name in cast.judges[1:]:
            await score_sheets_and_close.mark_all(stage, cast, name)
        await score_sheets_and_close.close(stage)
        self.look()

    async def result(self) -> None:
        """Announce, offer, give feedback."""
        stage, cast = self.stage, self.cast
        await forbidden_acts.stale_announcement(stage, cast.judges[2])
        await preview_and_announcement.announce(stage)
        await stage.wait(hours=18)
        await place_offers.offer(stage, cast)
        await feedback.feedback(stage)
        await stage.wait(hours=2)
        self.look()

    def oracle(self) -> Oracle:
        """What must have come of it."""
        entries = [entry.as_json() for entry in self.server.transcript.entries]
        coaches = frozenset((COACH, forbidden_acts.SECOND_COACH))
        packet = json.loads(self.packet_file().read_text("utf-8"))
        return Oracle(entries, packet, coaches=coaches, without=0, late_minutes=90)


def twice(name: str, data: Json) -> list[tuple[str, Json]]:
    """Whatever anybody does comes twice."""
    return [(name, data)] * (2 if name == "INTERACTION_CREATE" else 1)


def plan_of(root: Path) -> str:
    """The plan of the short season."""
    text = (root / "bot/words/plan/builtin_plan.toml").read_text("utf-8")
    for old, new in CHANGES:
        if old not in text:
            raise ValueError(f"the built-in plan has no {old!r}")
        text = text.replace(old, new, 1)
    return text


def typed(chance: Random, field: Field, skill: float) -> str | list[Option]:
    """What the scorekeeper types: as in a long season, and now and then points off, or a time that never came."""
    if field.label.startswith("Points ") and chance.random() < 0.5:
        return "10"
    if field.label == "Did the squad finish?" and chance.random() < 0.3:
        return [field.options[-1]]
    return _typed(chance, field, skill)


_typed = attempt_entry.value


async def play(out: Path) -> str:
    """Play the season; what was noticed first, or nothing."""
    random = Random(SEED)
    script = Script(SEED, None, ZONE, SECTIONS, 2, 4, BRIEF, squads=4, judges=3)
    cast = invent_cast(random, script.sections, script.smallest, script.largest, script.squads, script.judges)
    attempt_entry.value = typed
    behaviour = replace(Behaviour(), nonce_memory_s=-1.0)
    async with ClassServer(script.begins, behaviour=behaviour) as server:
        people_the_server(server, cast)
        for name in (forbidden_acts.SECOND_COACH, forbidden_acts.MALLORY):
            server.world.add_person(name)
        stage = Watched(server, random, SEED, zone=ZONE)
        bot = BotProcess(server, out / "tenbell.db", out / "bot.log")
        season = ShortSeason(out, server, stage, cast, bot)
        try:
            await bot.start()
            await season.play()
        except (Noticed, CastMistake, ClockStuck, BotDied) as noticed:
            return f"{type(noticed).__name__}: {noticed}"
        finally:
            if bot.running:
                await bot.kill()
            season.tidy()
            (out / "transcript.jsonl").write_text(server.transcript.text(), "utf-8")
    return ""


def main() -> int:
    """Play it in this copy; 1 when something was noticed."""
    parser = argparse.ArgumentParser(prog="short_season", description=__doc__)
    parser.add_argument("--out", type=Path, help="where the database, the log and the transcript are left")
    chosen = parser.parse_args()
    if not (ROOT / MARK).exists():
        print("This is no copy of the program; python -m tests.faults --season makes one.", file=sys.stderr)
        return 2
    with tempfile.TemporaryDirectory() as made:
        out = chosen.out or Path(made)
        out.mkdir(parents=True, exist_ok=True)
        noticed = asyncio.run(play(out))
    print(noticed or "nothing was noticed")
    return int(bool(noticed))


if __name__ == "__main__":
    sys.exit(main())
