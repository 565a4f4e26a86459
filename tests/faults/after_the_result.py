"""After the result: what a person could still find in the file, whom it still names, and the next year's first day."""

import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

from deploy.rehearsal.cast.stage import NEWS
from deploy.rehearsal.cast.try_out_setup import office
from deploy.rehearsal.season.early_bot import ROOT
from tests.faults import bad_platform, forbidden_acts, season_invariants
from tests.faults.watched_season import WatchedSeason

HELD_S = 3.4
"""So long another program holds the file: longer than the platform waits."""
SECRET = "Zq7Zq7 of somebody"
ZONE = "America/New_York"


async def afterwards(season: WatchedSeason) -> None:
    """Somebody is erased, then everybody; and what a person could find in the file."""
    stage, cast, world = season.stage, season.cast, season.server.world
    packet = season.packet_file()
    accounts = [person.id for person in world.people.values() if not person.bot]
    season_invariants.log_names_nobody(season.database, accounts)
    season_invariants.chain_holds(season.database)
    verify(season, packet, altered=False)
    verify(season, packet, altered=True)
    await damaged(season, cast.groups[0].people[0])
    gone = cast.groups[0].people[-1]
    await forbidden_acts.erase(stage, gone)
    await stage.wait(days=3)
    await stop_and_look(season, [gone], "although it was erased")
    await stage.wait(days=8)
    names = list(cast.students)
    await stop_and_look(season, names, "although all names were to be erased by now")
    season_invariants.nobody_can_be_found(season.database, accounts)
    await next_year(season)


async def stop_and_look(season: WatchedSeason, names: list[str], why: str) -> None:
    """Stop the bot, look for names in its file, and start it again."""
    await season.bot.stop()
    season_invariants.is_sound(season.database)
    season_invariants.is_nowhere(season.database, names, why)
    season_invariants.answers_are_forgotten(season.database, season.stage.now)
    await season.bot.start()


async def next_year(season: WatchedSeason) -> None:
    """The next try-out, by the machine's own clock: another program holds the file while people press."""
    stage, server = season.stage, season.server
    await season.bot.stop()
    del season.bot.environment["TENBELL_CLOCK"]
    server.clock.ever_connected = False
    await season.bot.start(wait=False)
    await server.machine.within(20, server.gateway.identified.wait())
    shown = await office(stage)
    held = await bad_platform.hold(season.database, HELD_S, sys.executable)
    late = await stage.do(lambda: stage.coach.press(shown, "Begin a try-out"))
    await held.wait()
    forbidden_acts.must(late.message is not None and "Open the form" in late.shown().labels,
                  f"a form that came late was lost: {late.text[:80]!r}")  # fmt: skip
    form = (await stage.do(lambda: stage.coach.press(late.shown(), "Open the form"))).opened()
    values = {"Date of the brief": "2028-01-10", "Time of the brief": "15:30", "Time zone": ZONE, "Sections": "A"}
    held = await bad_platform.hold(season.database, HELD_S, sys.executable)
    outcome = await stage.do(lambda: stage.coach.fill(form, values))
    await held.wait()
    forbidden_acts.must("draft" in outcome.text, f"whoever had to wait was told {outcome.text[:80]!r}")
    season.look()


async def damaged(season: WatchedSeason, name: str) -> None:
    """Somebody's words stand where a moment should: it goes wrong, and nobody is quoted in the log."""
    phone, log = season.stage.phone(name), season.out / "bot.log"
    await season.bot.kill()
    before = bad_platform.damage(season.database, SECRET)
    await season.bot.start()
    await season.stage.moment()
    told = await phone.command("/my-squad", room=NEWS)
    written = log.read_text("utf-8", errors="replace")
    forbidden_acts.must(forbidden_acts.MISTAKE.search(told.text), f"of a damaged file was told {told.text[:80]!r}")
    forbidden_acts.must(SECRET not in written, "the log quotes what somebody wrote")
    await season.bot.kill()
    bad_platform.damage(season.database, before)
    log.write_text("", "utf-8")
    await season.bot.start()


def verify(season: WatchedSeason, packet: Path, *, altered: bool) -> None:
    """The command line finds the result right, and an altered log wrong."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy.db"
        with closing(sqlite3.connect(season.database)) as source, closing(sqlite3.connect(copy)) as target:
            source.backup(target)
            if altered:
                target.execute("UPDATE audit_log SET action = 'squad.leave' WHERE seq = 5")
                target.commit()
        command = [sys.executable, "-m", "bot", "verify", str(packet), "--database", str(copy)]
        done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
    forbidden_acts.must(bool(done.returncode) == altered, f"verify says {done.returncode}: {done.stdout[-200:]}")
