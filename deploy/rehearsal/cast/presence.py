"""Who is here: the members of a squad are ticked before its first run, and of one squad somebody comes late."""

from __future__ import annotations

from dataclasses import dataclass, field

from deploy.rehearsal.cast.day_board import Line
from deploy.rehearsal.cast.stage import Stage

HERE = "Who is here"
ENOUGH = 4
"""In a squad of so many one may come late."""


@dataclass
class Presence:
    """Who has been ticked so far."""

    stage: Stage
    seen: set[str] = field(default_factory=set)
    """Squads whose members have been ticked."""
    late: set[str] = field(default_factory=set)
    """Squads of which somebody was still missing then."""
    came_late: bool = False

    async def tick(self, line: Line) -> None:
        """Tick who is here before the first run; of one squad somebody comes late."""
        card, squad = line.there, line.squad
        if squad in self.seen and squad not in self.late:
            return
        opened = (await self.stage.do(lambda: line.phone.press(card, HERE))).opened()
        roster = opened.fields[0]
        chosen = [option.label for option in roster.options]
        if squad not in self.seen and len(chosen) >= ENOUGH and not self.came_late:
            self.late.add(squad)
            self.came_late = True
            chosen = chosen[:-1]
        else:
            self.late.discard(squad)
        self.seen.add(squad)
        line.card = (await self.stage.do(lambda: line.phone.fill(opened, {roster.label: chosen}))).shown()
