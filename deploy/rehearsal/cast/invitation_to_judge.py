"""Judges are asked, and agree some time later; one has no time, and one's marks are shown only for a while."""

from __future__ import annotations

import re
from functools import partial

from deploy.rehearsal.cast.people import COACH, NOT_A_JUDGE, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage
from deploy.rehearsal.cast.try_out_setup import office, press_on
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act

START_JUDGING = "Start judging"
HAS_JUDGES = re.compile(r"^\d+ judges?, \d+ ready", re.MULTILINE)
"""How the office counts the judges; nothing where there are none."""


def _press_newest(phone: Phone, label: str) -> Act:
    return phone.press(phone.with_button(NEWS, label), label)


async def ask_judges(stage: Stage, cast: Cast) -> None:
    """Ask people to judge; each presses the button some time later."""
    await invite_judges(stage, cast)
    for name in cast.judges:
        await stage.wait(minutes=stage.random.randint(10, 200))
        await agree_to_judge(stage, name)


async def invite_judges(stage: Stage, cast: Cast) -> None:
    """Ask people to judge."""
    shown = (await press_on(stage, await office(stage), "Judges")).shown()
    await stage.do(lambda: stage.coach.choose(shown, "Add judges", list(cast.judges)))


async def agree_to_judge(stage: Stage, name: str) -> None:
    """Press the button under the invitation."""
    judge = stage.phone(name)
    await stage.do(partial(_press_newest, judge, START_JUDGING))


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
