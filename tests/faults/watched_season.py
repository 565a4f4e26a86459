"""A season that is looked at from outside at every step, and whose power can be cut."""

import shutil
import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from deploy.rehearsal.cast.people import Cast, Group
from deploy.rehearsal.cast.stage import OFFICE, Stage
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.season.bot_process import BotProcess
from deploy.rehearsal.server.class_server import ClassServer
from tests.faults import forbidden_acts, season_invariants
from tests.faults.bad_platform import Platform
from tests.faults.season_invariants import Noticed

MOST_ACTS = 1500
"""So many acts are twice as many as the season has."""
FAST = Path("/dev/shm")
"""Memory as a folder, where the system has it."""
IN_MEMORY = FAST.is_dir()


class Watched(Stage):
    """A stage on which it is looked whether what people are told is done is on the disk, and no fault is told."""

    database = Path()
    acts = 0

    async def do(self, *arguments: Any, **named: Any) -> Outcome:
        """Act, and look."""
        self.acts += 1
        forbidden_acts.must(self.acts < MOST_ACTS, "somebody presses again and again")
        outcome = await super().do(*arguments, **named)
        if self.server.clock.ever_connected:
            season_invariants.is_on_disk(self.database)
        forbidden_acts.must(
            not forbidden_acts.MISTAKE.search(outcome.text), f"a fault was told: {outcome.text[-60:]!r}"
        )
        return outcome


@dataclass
class WatchedSeason:
    """One season in a folder."""

    out: Path
    server: ClassServer
    stage: Watched
    cast: Cast
    bot: BotProcess
    platform: Platform = field(init=False)
    free: Group = field(init=False)
    """A squad of the second section that had a seat left."""
    moved: list[Path] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.database = self.out / "tenbell.db"
        self.platform = Platform(self.server, self.power_cut)
        self.stage.database = self.database

    async def power_cut(self) -> None:
        """Cut the power, look at the file, and start again beside whatever goes on."""
        await self.bot.kill()
        season_invariants.is_sound(self.database)
        await self.bot.start()

    async def move(self) -> None:
        """Go on in memory, as if on another machine: there is no disk to be waited for."""
        if not IN_MEMORY:
            return
        await self.bot.stop()
        folder = Path(tempfile.mkdtemp(prefix="short-season-", dir=FAST))
        self.moved.append(folder)
        shutil.copy(self.database, folder / self.database.name)
        self.database = self.stage.database = folder / self.database.name
        self.bot.environment["TENBELL_DATABASE"] = str(self.database)
        await self.bot.start()

    def tidy(self) -> None:
        """Remove what stands in memory."""
        for folder in self.moved:
            shutil.rmtree(folder, ignore_errors=True)

    def look(self) -> None:
        """Look at everything that can be looked at while the bot runs."""
        self.platform.check()
        season_invariants.rooms_are_harmless(self.server.world)
        season_invariants.labels_fit(self.server.world)
        season_invariants.log_is_quiet(self.out / "bot.log")
        if doubled := self.stage.doubled():
            raise Noticed(f"said twice: {doubled[0]}")

    async def look_back(self) -> None:
        """Everything that anybody was told is still there."""
        await self.stage.look_back()
        forbidden_acts.must(not self.stage.lost, f"lost: {self.stage.lost[:2]}")

    def packet_file(self) -> Path:
        """The results packet as the coach has it."""
        coach = self.stage.coach
        files = [file for shown in coach.see(OFFICE) for file in shown.files if file.name.endswith(".json")]
        path = self.out / "packet.json"
        path.write_bytes(coach.download(files[-1]))
        return path
