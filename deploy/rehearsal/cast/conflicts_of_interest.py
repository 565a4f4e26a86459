"""Judges who know a squad: noted by the coach for the wrong one, and said by a judge by mistake; both are undone."""

from __future__ import annotations

from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, walk
from deploy.rehearsal.cast.score_sheets_and_close import my_sheets
from deploy.rehearsal.cast.stage import Stage


async def ties(stage: Stage, cast: Cast) -> None:
    """The coach notes that a judge knows a squad, which turns out to be another one of that name."""
    tie = (Pick("Which squads does a judge know", (cast.judges[1],)),)
    await in_office(stage, "Judges", "Knows a squad", *tie, Pick("Squads in which they know", (cast.groups[0].name,)))
    await in_office(stage, "Judges", "Knows a squad", *tie, Pick("Squads in which they know", nothing=True))


async def step_back(stage: Stage, cast: Cast) -> None:
    """A judge steps back from a squad by mistake; the coach undoes it. Another one would rather type the marks."""
    name, squad = cast.judges[2], cast.groups[0].name
    await walk(
        stage, name, my_sheets(stage, name), "I know someone", Pick("Pick the squad", (squad,)), "Yes, step back"
    )
    tie = (Pick("Which squads does a judge know", (name,)), Pick("Squads in which they know", nothing=True))
    await in_office(stage, "Knows a squad", *tie, line="/judges")
    await walk(stage, name, my_sheets(stage, name), Pick("Look at a sheet"), "Type the marks")
