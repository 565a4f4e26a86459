"""The coach changes the plan of a try-out that runs, when the class reads of it."""

from __future__ import annotations

import re

from deploy.rehearsal.cast.draft_plan import in_plan, read_plan
from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import walk
from deploy.rehearsal.cast.stage import Stage

PLACES = re.compile(r"^places = (\d+)$", re.MULTILINE)
TO_THINK = 11
"""Minutes after which one coach alone may change how the result is made."""


async def a_closed_day(stage: Stage, _cast: Cast) -> None:
    """Tomorrow is closed for snow; nothing moves, because the ten days have not begun."""
    await in_plan(stage, "Close a day", {}, "Yes")


async def second_thoughts(stage: Stage, _cast: Cast) -> None:
    """After the brief the coach reads first what the class would read: one change is left, one is made."""
    opened = (await in_plan(stage, "Name and brief")).opened()
    brief = next(field for field in opened.fields if field.label == "The brief")
    why = {"Why": "One sentence was missing"}
    await in_plan(stage, "Name and brief", {"The brief": f"{brief.value}\nBring old socks."} | why, "No, leave it")
    more = f"{brief.value}\nBring a towel for the robot on rainy days."
    await in_plan(stage, "Name and brief", {"The brief": more} | why, "Yes, change it")


async def one_more_place(stage: Stage) -> None:
    """Squads are equal and nothing can be run off: the coach has a place more, and the class reads why."""
    saved = (await read_plan(stage)).decode()
    more = PLACES.sub(lambda found: f"places = {int(found[1]) + 1}", saved)
    why = {"The plan": ("plan.toml", more.encode()), "Why": "Two squads are exactly equal"}
    asked = await in_plan(stage, "Use a plan file", why)
    await stage.wait(minutes=TO_THINK)
    await walk(stage, COACH, asked, "Yes, change it")
