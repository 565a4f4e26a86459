"""After the result: an incident noted and struck out, certificates, and a team put together of several squads."""

from __future__ import annotations

from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room
from deploy.rehearsal.cast.stage import Stage

RECORDS = ("Records",)


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
