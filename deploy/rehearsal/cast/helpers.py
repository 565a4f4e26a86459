"""Helpers: a second coach, somebody who types in what is on paper, and scorekeepers."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.people import CO_COACH, TYPIST, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.cast.try_out_setup import office, press_on


async def coach_and_typist(stage: Stage, _cast: Cast) -> None:
    """A second coach, and somebody who types in what is on paper."""
    await in_office(stage, "People", "Coaches and helpers", Pick("Add a coach", (CO_COACH,)))
    await in_office(stage, "People", "Coaches and helpers", Pick("Add a typist", (TYPIST,)))


async def scorekeepers(stage: Stage, *names: str) -> None:
    """Let people help at the tables, who do not yet."""
    shown = (await press_on(stage, await office(stage), "People", "Coaches and helpers")).shown()
    for name in [name for name in names if name not in shown.text]:
        shown = (await stage.do(partial(stage.coach.choose, shown, "Add a scorekeeper", [name]))).shown()


async def typist_leaves(stage: Stage, _cast: Cast) -> None:
    """All paper is typed in: the typist is dismissed."""
    await in_office(stage, "People", "Coaches and helpers", Pick("Dismiss a helper", (TYPIST,)))
