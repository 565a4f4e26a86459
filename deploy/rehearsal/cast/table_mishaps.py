"""What happens on the event day besides: times that move, counts taken at once, the stopwatch, and a slip."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast import score_table
from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER, Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office, in_room, walk
from deploy.rehearsal.cast.stage import OFFICE, Stage
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.wire.rendering import Shown

DOOR = "Event day"
PLANNING = "Start the planning time"
ENDS = (("One fault more", "One fault less", "Stop"), ("Did not finish",))
"""How the clock of the first squads ends."""


async def the_coach_arranges(stage: Stage, cast: Cast) -> None:
    """The coach looks at the plan of the day, swaps two squads, lets all begin later; a student saves the times."""
    for steps in (
        ("Plan of the day", {"Why": "To see that all is right"}),
        ("Timetable", Pick("Move one of them"), Pick("Swap with")),
        ("Later", {"How many minutes": "5"}),
        ("Calendar file",),
    ):
        await in_office(stage, DOOR, *steps)
    await in_room(stage, COACH, OFFICE, "Who is next")
    name = cast.groups[0].people[0]
    await in_room(stage, name, squad_room(stage.phone(name), cast.groups[0].name), "Calendar file")


async def all_at_once(stage: Stage, _cast: Cast) -> None:
    """What the bot has counted of the parts that are in is taken for all squads at once."""
    for measure in await score_table.measures(stage):
        listed = await score_table.squad_list(stage, measure)
        if any(label.startswith("Take all") for label in listed.labels):
            await walk(stage, SCOREKEEPER, listed, "Take all", "Save all")


async def stopwatch(stage: Stage, cast: Cast) -> None:
    """A clock is started too early; one is stopped by a press and timed by hand; one squad does not finish at first."""
    for measure in await score_table.measures(stage):
        squads = await score_table.squads_at(stage, measure)
        card = (await _at(stage, measure, squads[0])).shown()
        if "Stopwatch" not in card.labels:
            continue
        await _at(stage, measure, squads[-1], "Absence", {"Does it take part": "Absent"})
        await _at(stage, measure, squads[-1], "Absence", {"Does it take part": "It takes part"})
        await _at(stage, measure, squads[-1], "All squads", "Another measure")
        for squad in squads[: len(ENDS)]:
            await _at(stage, measure, squad, "Who is here", {})
        await _clock(stage, card, "Cancel the clock")
        for squad, ends in zip(squads, ENDS, strict=False):
            card = (await _at(stage, measure, squad)).shown()
            enter = next(label for label in card.labels if label.startswith("Enter"))
            read = await _clock(stage, card, *ends)
            form = (await walk(stage, SCOREKEEPER, read, "Change")).opened()
            typed = score_table.typed_values(stage, cast, form, enter)
            asked = await stage.do(partial(stage.phone(SCOREKEEPER).fill, form, typed))
            for label in ("The press time counts", "The hand time counts"):
                if label in asked.shown().labels:
                    asked = await walk(stage, SCOREKEEPER, asked, label)
            await walk(stage, SCOREKEEPER, asked, "Save")
            stage.attempts += 1


async def undone(stage: Stage, cast: Cast) -> None:
    """An attempt that stands in the wrong line is undone, and entered again."""
    measure = (await score_table.measures(stage))[-1]
    squads = await score_table.squads_at(stage, measure)
    await _at(stage, measure, squads[1], "Undo", "It was entered wrongly", "Enter it again")
    await score_table.attempt(stage, cast, {}, measure, squads[1], slip=False)


async def _at(stage: Stage, measure: str, squad: str, *steps: Step) -> Outcome:
    """The scorekeeper opens a squad at a measure, and walks on."""
    listed = await score_table.squad_list(stage, measure)
    return await walk(stage, SCOREKEEPER, listed, Pick(score_table.SQUADS, (squad,)), *steps)


async def _clock(stage: Stage, card: Shown, *ends: str) -> Outcome:
    """Start the stopwatch on a squad's card, with the time to plan in before, and end it."""
    ready = await walk(stage, SCOREKEEPER, card, "Stopwatch")
    if PLANNING in ready.shown().labels:
        ready = await walk(stage, SCOREKEEPER, ready, PLANNING)
    start = next(label for label in ready.shown().labels if "tart the clock" in label)
    running = await walk(stage, SCOREKEEPER, ready, start)
    await stage.wait(minutes=2)
    return await walk(stage, SCOREKEEPER, running, *ends)
