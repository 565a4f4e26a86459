"""Times that move on the event day: two squads swap, and all begins so many minutes later; a student keeps them."""

from __future__ import annotations

from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.event_day import DOOR
from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room
from deploy.rehearsal.cast.stage import OFFICE, Stage

LATER_MINUTES = 5
"""By so much the coach lets the whole day begin later."""


async def times_that_move(stage: Stage, cast: Cast) -> None:
    """The coach looks at the plan of the day, swaps two squads, lets all begin later; a student saves the times."""
    for steps in (
        ("Plan of the day", {"Why": "To see that all is right"}),
        ("Timetable", Pick("Move one of them"), Pick("Swap with")),
        ("Later", {"How many minutes": str(LATER_MINUTES)}),
        ("Calendar file",),
    ):
        await in_office(stage, DOOR, *steps)
    await in_room(stage, COACH, OFFICE, "Who is next")
    name = cast.groups[0].people[0]
    await in_room(stage, name, squad_room(stage.phone(name), cast.groups[0].name), "Calendar file")
