"""Around the announcement: a time that is taken back, protests that two coaches decide, records, and names that go."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.people import CO_COACH, COACH, TYPIST, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room, walk
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage
from deploy.rehearsal.phones.user_actions import Outcome

RECORDS, QUESTION = ("Records",), "Question about our result"
PROTEST_DAYS = 7
"""So long after the announcement nobody may protest any more."""


async def not_yet(stage: Stage, _cast: Cast) -> None:
    """The coach looks at one squad's whole way, sets a time for the announcement, and takes it back."""
    await in_office(stage, "Squad by squad", Pick("Which squad?"), line="/results")
    await in_office(stage, "Announce", "Announce at a time", {"Time of day": "23:30"}, "Do not", line="/results")


async def rejected(stage: Stage, _cast: Cast) -> None:
    """The coach writes a protest down for a squad without accounts; two coaches reject it."""
    text = {"What was": "In our second run the sock on the rim was not counted."}
    await in_office(stage, *RECORDS, "Protests", Pick("Write one down"), text)
    await decided(stage, "Reject", "On the rim is not in the basket")


async def protest(stage: Stage, name: str, text: str) -> None:
    """A captain protests."""
    phone = stage.phone(name)
    mine = await stage.do(partial(phone.command, "/my-squad", room=NEWS))
    await walk(stage, name, mine, QUESTION, {"What was": text})


async def decided(stage: Stage, verdict: str, why: str) -> Outcome:
    """One coach proposes what becomes of the newest protest, the second one agrees and reads what follows."""
    await stage.wait(minutes=10)
    await in_room(stage, COACH, OFFICE, "Read and decide", verdict, {"Why": why})
    await stage.wait(minutes=10)
    return await in_room(stage, CO_COACH, OFFICE, "Read and agree", "I agree")


async def records(stage: Stage, _cast: Cast) -> None:
    """An incident is noted and struck again; the certificates are made."""
    what = {"What happened": "Somebody ran in the corridor with a robot"}
    await in_office(stage, *RECORDS, "Incidents", "Note an incident", what)
    await in_office(stage, *RECORDS, "Incidents", Pick("Strike one out"))
    await in_office(stage, *RECORDS, "Certificates")


async def team(stage: Stage, cast: Cast) -> None:
    """Beside the place for a squad two single students are asked to help at the table: one will, one will not."""
    names = tuple(group.people[0] for group in cast.groups[:3])
    await in_office(stage, *RECORDS, "Team of several", Pick("Offer a place", names))
    for name, group, answer in zip(names, cast.groups, ("Yes, I want", "No, thank you"), strict=False):
        await in_room(stage, name, squad_room(stage.phone(name), group.name), "My place in the team", answer)
    await in_office(stage, *RECORDS, "Team of several", Pick("Note a no, or take an offer back", (names[2],)))


async def put_away(stage: Stage, _cast: Cast) -> None:
    """The try-out is put away; for the next one the coach types the date of the last one by mistake."""
    await stage.wait(days=PROTEST_DAYS)
    await in_office(stage, "Put the try-out away", "Yes, put it away")
    await in_office(stage, "Last year's plan", {"Date of the brief": "2027-01-11"})


async def thanks(stage: Stage, _cast: Cast) -> None:
    """All paper is typed in: the typist is dismissed."""
    await in_office(stage, "People", "Coaches and helpers", Pick("Dismiss a helper", (TYPIST,)))
