"""The coach tries what can be changed about a plan: as a draft, and again when the class would read of it."""

from __future__ import annotations

import re
from functools import partial

from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, walk
from deploy.rehearsal.cast.stage import OFFICE, Stage
from deploy.rehearsal.cast.try_out_setup import read_plan
from deploy.rehearsal.phones.user_actions import Outcome

PLACES = re.compile(r"^places = (\d+)$", re.MULTILINE)


TO_THINK = 11
"""Minutes after which one coach alone may change how the result is made."""


FORMS = ("Weights", "Sections and sizes", "Name and brief", "Dates")


async def draft(stage: Stage, _cast: Cast) -> None:
    """Look into every form of the plan; try another set of events, and put the file back that was saved before."""
    saved = await read_plan(stage)
    for form in FORMS:
        await _plan(stage, form, {})
    await _plan(stage, "Events", Pick("Change an event"), {})
    await _plan(stage, "Events", "New set of events", {})
    await _plan(stage, "Use a plan file", {"The plan": ("plan.toml", saved)})


async def a_closed_day(stage: Stage, _cast: Cast) -> None:
    """Tomorrow is closed for snow; nothing moves, because the ten days have not begun."""
    await _plan(stage, "Close a day", {}, "Yes")


async def second_thoughts(stage: Stage, _cast: Cast) -> None:
    """After the brief the coach reads first what the class would read: one change is left, one is made."""
    opened = (await _plan(stage, "Name and brief")).opened()
    brief = next(field for field in opened.fields if field.label == "The brief")
    why = {"Why": "One sentence was missing"}
    await _plan(stage, "Name and brief", {"The brief": f"{brief.value}\nBring old socks."} | why, "No, leave it")
    more = f"{brief.value}\nBring a towel for the robot on rainy days."
    await _plan(stage, "Name and brief", {"The brief": more} | why, "Yes, change it")


async def one_more_place(stage: Stage) -> None:
    """Squads are equal and nothing can be run off: the coach has a place more, and the class reads why."""
    saved = (await read_plan(stage)).decode()
    more = PLACES.sub(lambda found: f"places = {int(found[1]) + 1}", saved)
    why = {"The plan": ("plan.toml", more.encode()), "Why": "Two squads are exactly equal"}
    asked = await _plan(stage, "Use a plan file", why)
    await stage.wait(minutes=TO_THINK)
    await walk(stage, COACH, asked, "Yes, change it")


async def _plan(stage: Stage, *steps: Step) -> Outcome:
    return await walk(stage, COACH, await stage.do(partial(stage.coach.command, "/plan", room=OFFICE)), *steps)
