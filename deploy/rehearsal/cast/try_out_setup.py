"""The coach begins the try-out with a plan, chooses the channels, and opens sign-up."""

from __future__ import annotations

from datetime import datetime
from functools import partial

from deploy.rehearsal.cast.stage import NEWS, OFFICE, ROOMS, SIGN_UP, Stage, awaited, newest
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome
from deploy.rehearsal.wire.rendering import Shown

BEGUN = "is set up as a draft"
CHOOSE_CHANNELS, OPEN_SIGN_UP = "Choose the channels", "Open sign-up"
CHANNELS = {"Sign-up": SIGN_UP, "News": NEWS, "Squads": ROOMS, "Office": OFFICE}


async def office(stage: Stage) -> Shown:
    """Open the office panel."""
    coach = stage.coach
    return (await stage.do(lambda: coach.command("/office", room=OFFICE))).shown()


async def press_on(stage: Stage, shown: Shown, *labels: str) -> Outcome:
    """The coach presses one button after another, each under what the one before brought."""
    outcome = Outcome("message", shown)
    for label in labels:
        under = outcome.shown()
        outcome = await stage.do(partial(stage.coach.press, under, label))
    return outcome


async def begin(stage: Stage, plan: bytes | None, brief: datetime, zone: str, sections: list[str]) -> None:
    """Begin with the built-in plan, or with the plan file that the rehearsal was given."""
    coach = stage.coach
    if plan is None:
        opened = (await press_on(stage, await office(stage), "Begin a try-out")).opened()
        values = {
            "Date of the brief": brief.date().isoformat(),
            "Time of the brief": brief.strftime("%H:%M"),
            "Time zone": zone,
            "Sections": ", ".join(sections),
        }
        outcome = await stage.do(lambda: coach.fill(opened, values))
    else:
        opened = (await press_on(stage, await office(stage), "Use a plan file")).opened()
        outcome = await stage.do(lambda: coach.fill(opened, {"The plan": ("plan.toml", plan)}))
    if BEGUN not in outcome.text and not stage.rough:
        raise CastMistake(f"the try-out did not begin: {outcome.text!r}")
    await choose_channels(stage)


async def choose_channels(stage: Stage) -> None:
    """Choose the room of the same name for each purpose."""
    shown = (await press_on(stage, await office(stage), CHOOSE_CHANNELS)).shown()
    for purpose, channel in CHANNELS.items():
        select = next(one.placeholder for one in shown.selects if one.placeholder.startswith(purpose))
        outcome = await stage.do(partial(stage.coach.choose, shown, select, channel))
        shown = outcome.shown()


async def open_sign_up(stage: Stage) -> None:
    """Open sign-up, after reading what the class will be told."""
    await press_on(stage, await office(stage), OPEN_SIGN_UP, "Yes, open sign-up")
    await awaited(stage, lambda: newest(stage.coach, NEWS, "sign-up is open"))
