"""The stopwatch: started too early, stopped by a press and timed by hand, and a squad that does not finish."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast import attempt_entry, score_table
from deploy.rehearsal.cast.people import SCOREKEEPER, Cast
from deploy.rehearsal.cast.press_sequence import walk
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.wire.rendering import Shown

PLANNING = "Start the planning time"
ENDS = (("One fault more", "One fault less", "Stop"), ("Did not finish",))
"""How the clock of the first squads ends."""


async def timed(stage: Stage, cast: Cast) -> None:
    """A clock is started too early; one is stopped by a press and timed by hand; one squad does not finish at first."""
    for measure in await score_table.measures(stage):
        squads = await score_table.squads_at(stage, measure)
        card = (await score_table.at(stage, measure, squads[0])).shown()
        if "Stopwatch" not in card.labels:
            continue
        await score_table.absent_by_mistake(stage, measure, squads[-1])
        for squad in squads[: len(ENDS)]:
            await score_table.at(stage, measure, squad, "Who is here", {})
        await _clock(stage, card, "Cancel the clock")
        for squad, ends in zip(squads, ENDS, strict=False):
            card = (await score_table.at(stage, measure, squad)).shown()
            enter = next(label for label in card.labels if label.startswith("Enter"))
            read = await _clock(stage, card, *ends)
            form = (await walk(stage, SCOREKEEPER, read, "Change")).opened()
            typed = attempt_entry.typed_values(stage, cast, form, enter)
            asked = await stage.do(partial(stage.phone(SCOREKEEPER).fill, form, typed))
            for label in ("The press time counts", "The hand time counts"):
                if label in asked.shown().labels:
                    asked = await walk(stage, SCOREKEEPER, asked, label)
            await walk(stage, SCOREKEEPER, asked, "Save")
            stage.attempts += 1


async def _clock(stage: Stage, card: Shown, *ends: str) -> Outcome:
    """Start the stopwatch on a squad's card, with the time to plan in before, and end it."""
    ready = await walk(stage, SCOREKEEPER, card, "Stopwatch")
    if PLANNING in ready.shown().labels:
        ready = await walk(stage, SCOREKEEPER, ready, PLANNING)
    start = next(label for label in ready.shown().labels if "tart the clock" in label)
    running = await walk(stage, SCOREKEEPER, ready, start)
    await stage.wait(minutes=2)
    return await walk(stage, SCOREKEEPER, running, *ends)
