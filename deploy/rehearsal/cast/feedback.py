"""Feedback for every squad: one read and changed by the coach, then all sent."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.place_offers import OFFERS, opened_page
from deploy.rehearsal.cast.press_sequence import Pick, in_office, walk
from deploy.rehearsal.cast.stage import NEXT_PAGE, Stage


async def read_and_changed(stage: Stage, _cast: Cast) -> None:
    """The coach ticks what the judges wrote, changes one feedback, and sends it before the others."""
    way = ("Feedback for squads", Pick("Read the feedback"))
    shown = (await in_office(stage, *way)).shown()
    if any(label.startswith("Judges' comments") for label in shown.labels):
        await walk(stage, COACH, shown, "Judges' comments", Pick("Tick what goes out"))
    shown = (await in_office(stage, *way)).shown()
    form = (await walk(stage, COACH, shown, "Edit")).opened()
    kind = {form.fields[0].label: f"{form.fields[0].value}\nIt was a pleasure to watch you."}
    await stage.do(partial(stage.coach.fill, form, kind))
    await in_office(stage, *way, "Send")


async def feedback(stage: Stage) -> None:
    """Every squad gets its feedback; the coach reads one first."""
    coach = stage.coach
    panel = await opened_page(stage, OFFERS, "Feedback for squads")
    select = panel.selects[0]
    await stage.do(partial(coach.choose, panel, select.placeholder, select.options[0].label))
    panel = await opened_page(stage, OFFERS, "Feedback for squads")
    asked = (await stage.do(partial(coach.press, panel, "Read and send all"))).shown()
    while "Send all" not in asked.labels:
        asked = (await stage.do(partial(coach.press, asked, NEXT_PAGE))).shown()
    await stage.do(partial(coach.press, asked, "Send all"))
