"""The surprise task starts: for one section first, and then for all at one moment."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.stage import NEWS, Stage, awaited, newest
from deploy.rehearsal.cast.try_out_setup import office

START, STARTED = "Start the surprise", "The surprise starts now"


async def by_waves(stage: Stage) -> None:
    """The surprise starts for one section first; everybody else gets it later."""
    coach = stage.coach
    shown = await office(stage)
    if START not in shown.labels:
        return
    asked = (await stage.do(lambda: coach.press(shown, START))).shown()
    waves = (await stage.do(lambda: coach.press(asked, "For some squads only"))).shown()
    section = waves.selects[0]
    sure = (await stage.do(lambda: coach.choose(waves, 0, section.options[0].label))).shown()
    started = next(label for label in sure.labels if "tart it for them" in label)
    await stage.do(lambda: coach.press(sure, started))


async def for_all(stage: Stage) -> None:
    """The coach checks the safety lines and starts what was a surprise, for all at one moment."""
    coach = stage.coach
    while True:
        shown = await office(stage)
        if START not in shown.labels:
            return
        asked = (await stage.do(partial(coach.press, shown, START))).shown()
        if asked.selects:
            asked = (await stage.do(partial(coach.choose, asked, 0, asked.selects[0].options[0].label))).shown()
        checked = next(label for label in asked.labels if "tart it" in label)
        await stage.do(partial(coach.press, asked, checked))
        await awaited(stage, lambda: newest(coach, NEWS, STARTED))
