"""Who sees which squad: set by hand and computed before the brief, and where judges could not be shared out."""

from __future__ import annotations

from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, walk
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.wire.rendering import Shown

NO_SHEETS = "no sheets could be handed out"


async def by_hand(stage: Stage, cast: Cast) -> None:
    """The coach sets the judges of a squad, lets go of that, and has everything computed anew."""
    way = ("Judges", "Panels", Pick("Pick a part"))
    await in_office(stage, *way, Pick("How many judges", ("2 judges",)))
    await in_office(stage, *way, Pick("Set the judges"), Pick("Pick the judges", cast.judges[:2]))
    await in_office(stage, *way, "Let go of what I set")
    await in_office(stage, *way, "Compute")
    await in_office(stage, *way, Pick("How many judges", ("All judges",)))


async def all_see_all(stage: Stage, told: Shown) -> None:
    """Judges could not be shared out as the plan has it, so all of them see every squad."""
    await walk(stage, COACH, told, "Panels", Pick("How many judges", ("All judges",)))
