"""Before the brief: who judges and who cannot, who sees which squad, and an invented entry that all mark first."""

from __future__ import annotations

from deploy.rehearsal.cast.people import COACH, NOT_A_JUDGE, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room, walk
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.wire.rendering import Shown
from deploy.rehearsal.world.state import DIRECT_MESSAGES

SAMPLE = "A sheet with one big arrow, three colours, and no word about who drew what."
GO_ON = "Go on with the sample"
NO_SHEETS = "no sheets could be handed out"
MARKING = 3
"""So many judges mark the invented entry."""


async def no_time(stage: Stage, cast: Cast) -> None:
    """Somebody is asked to judge, asked again, and has no time; another one's marks are shown only, and count again."""
    await in_office(stage, "Judges", Pick("Add judges", (NOT_A_JUDGE,)))
    await stage.wait(hours=1)
    await in_office(stage, "Judges", Pick("Look at one judge", (NOT_A_JUDGE,)), "Ask again")
    await in_room(stage, NOT_A_JUDGE, NEWS, "Sorry, I can't")
    await in_room(stage, COACH, OFFICE, "Take off the judges", "Yes, remove")
    one = Pick("Look at one judge", (cast.judges[0],))
    await in_office(stage, "Judges", one, "Show, do not count")
    await in_office(stage, "Judges", one, "Let marks count")


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


async def not_before(stage: Stage, _cast: Cast) -> None:
    """The coach looks what could be judged already, and leaves it: it opens by itself at the deadline."""
    await in_office(stage, "Judges", "Open for judging")


async def ties(stage: Stage, cast: Cast) -> None:
    """The coach notes that a judge knows a squad, which turns out to be another one of that name."""
    tie = (Pick("Which squads does a judge know", (cast.judges[1],)),)
    await in_office(stage, "Judges", "Knows a squad", *tie, Pick("Squads in which they know", (cast.groups[0].name,)))
    await in_office(stage, "Judges", "Knows a squad", *tie, Pick("Squads in which they know", nothing=True))


async def a_trial(stage: Stage, cast: Cast) -> None:
    """Some judges mark an invented entry and compare; then the coach closes the trial."""
    await in_office(stage, "Judges", "Trial", "Begin a trial", Pick("Pick a rubric"), {"What the judges read": SAMPLE})
    for name in cast.judges[:MARKING]:
        await _mark(stage, name, await in_room(stage, name, DIRECT_MESSAGES, "See the sample", "Mark the sample"))
    await in_room(stage, cast.judges[0], DIRECT_MESSAGES, "See the sample", "How I compare")
    await in_office(stage, "Judges", "Trial", "Close the trial")


async def _mark(stage: Stage, name: str, outcome: Outcome) -> None:
    """Mark the invented entry, form after form."""
    while outcome.form is not None:
        marked = [field for field in outcome.form.fields if field.options]
        marks = {one.label: stage.chance("trial", name, one.label).choice(one.options).label for one in marked}
        outcome = await walk(stage, name, outcome, marks)
        if outcome.message is not None and GO_ON in outcome.message.labels:
            outcome = await walk(stage, name, outcome, GO_ON)


ALL = (not_before, no_time, by_hand, ties, a_trial)
