"""The end: incidents, certificates, a team of several squads; then all is put away, and last year's plan is tried."""

from __future__ import annotations

from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room
from deploy.rehearsal.cast.stage import Stage

RECORDS = ("Records",)
PROTEST_DAYS = 7
"""So long after the announcement nobody may protest any more."""


async def not_stopped(stage: Stage, _cast: Cast) -> None:
    """The coach reads what stopping the try-out would do, and does not."""
    await in_office(stage, "Set-up", "Stop this try-out")


async def put_away(stage: Stage, _cast: Cast) -> None:
    """The try-out is put away; for the next one the coach types the date of the last one by mistake."""
    await stage.wait(days=PROTEST_DAYS)
    await in_office(stage, "Put the try-out away", "Yes, put it away")
    await in_office(stage, "Last year's plan", {"Date of the brief": "2027-01-11"})


async def records(stage: Stage, _cast: Cast) -> None:
    """An incident is noted and struck again; the certificates are made."""
    what = {"What happened": "Somebody ran in the corridor with a robot"}
    await in_office(stage, *RECORDS, "Incidents", "Note an incident", what)
    await in_office(stage, *RECORDS, "Incidents", Pick("Strike one out"))
    await in_office(stage, *RECORDS, "Certificates")


async def team(stage: Stage, cast: Cast) -> None:
    """Beside the place for a squad two single students are asked to help at the table: one will, one will not."""
    names = tuple(group.people[0] for group in cast.groups[:3])
    await in_office(stage, *RECORDS, "Team of several", Pick("Offer a place", names), {})
    for name, group, answer in zip(names, cast.groups, ("Yes, I want", "No, thank you"), strict=False):
        await in_room(stage, name, squad_room(stage.phone(name), group.name), "My place in the team", answer)
    await in_office(stage, *RECORDS, "Team of several", Pick("Note an answer", (names[2],)), "Take it back")
