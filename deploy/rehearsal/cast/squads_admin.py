"""Squads that the coach founds, fills, renames and waits for; one may be small and is merged, one is taken out."""

from __future__ import annotations

from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office, in_room
from deploy.rehearsal.cast.stage import OFFICE, Stage
from deploy.rehearsal.cast.students_admin import NEWCOMER
from deploy.rehearsal.phones.user_actions import Outcome

LOOK = "Look at the squad"
"""Under the reminder that comes a day before the coach has waited long enough."""
FOUNDED, MISTAKE = "Wobbly Teapots", "Wobbly Teapot"
"""Squads that the coach founds: one is merged, one was a mistake."""


async def founded_squads(stage: Stage, cast: Cast) -> None:
    """The coach founds two squads; one is taken out at once, one waits, may be small, and becomes part of another."""
    section, other = cast.brim.section, cast.brim.name
    for name in (MISTAKE, FOUNDED):
        await in_office(stage, "People", "Squads", "Found a squad", {"Name": name, "Section": section})
    await _squad(stage, MISTAKE, "Take the squad out", {"Why": "It stood there twice"})
    await _squad(stage, FOUNDED, Pick("Add students", (NEWCOMER,)))
    await _squad(stage, FOUNDED, "Rename", {"New name": "Wobbly Teaspoons"})
    await _squad(stage, "Wobbly Teaspoons", "Wait for more", {"Why": "Two more think about it"})
    while not any(LOOK in shown.labels for shown in stage.coach.see(OFFICE)):
        await stage.wait(hours=4)
    await in_room(stage, COACH, OFFICE, LOOK)
    await _squad(stage, "Wobbly Teaspoons", "Let it be small", {"Why": "More may come on Friday"})
    why = {"Why": "They are too few"}
    await _squad(stage, "Wobbly Teaspoons", "Merge", Pick("Pick a squad", (other,)), "Make them one", why)
    await stage.wait(minutes=15)


async def _squad(stage: Stage, name: str, *steps: Step) -> Outcome:
    return await in_office(stage, "People", "Squads", Pick("Pick a squad", (name,)), *steps)
