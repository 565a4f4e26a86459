"""The plan while it is a draft: the coach tries its forms, types in the day, tries other events, reads the file."""

from __future__ import annotations

from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.phones.user_actions import Outcome

FORMS = ("Weights", "Sections and sizes", "Name and brief", "Dates")


async def plan_the_day(stage: Stage, sections: list[str]) -> None:
    """There are two tables, and two sections have their lesson at the same hour."""
    begins = [8 * 60 + 50 * (place // 2) for place in range(len(sections))]
    lessons = "\n".join(
        f"{section} {_clock(at)}-{_clock(at + 45)}" for section, at in zip(sections, begins, strict=True)
    )
    typed = {"Lessons, one a line": lessons, "Tables, minutes, where to interview": "2, 5, 10, 3, day"}
    await in_plan(stage, "Plan of the day", typed)


def _clock(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02}"


async def every_form(stage: Stage, _cast: Cast) -> None:
    """Look into every form of the plan; try another set of events, and put the file back that was saved before."""
    saved = await read_plan(stage)
    for form in FORMS:
        await in_plan(stage, form, {})
    await in_plan(stage, "Events", Pick("Change an event"), {})
    await in_plan(stage, "Events", "New set of events", {})
    await in_plan(stage, "Use a plan file", {"The plan": ("plan.toml", saved)})


async def read_plan(stage: Stage) -> bytes:
    """Read the plan as the bot has it, from the file that comes with it."""
    shown = (await in_plan(stage, "Show all of it")).shown()
    return stage.coach.download(next(file for file in shown.files if file.name.endswith(".toml")))


async def in_plan(stage: Stage, *steps: Step) -> Outcome:
    """The coach opens the plan, and walks on."""
    return await in_office(stage, *steps, line="/plan")
