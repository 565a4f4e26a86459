"""Protests against the result: a captain's own that two coaches uphold, and one written down for a squad, rejected."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.people import CO_COACH, COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room, walk
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage
from deploy.rehearsal.phones.user_actions import Outcome

QUESTION = "Question about our result"
SOON_MINUTES = 35
"""So long after the announcement the captain protests."""
PROTEST = "Our result has more faults in the paper chain than the scorekeeper called out."
TRUE = "Two of us and a judge have heard the same number"


async def upheld(stage: Stage, name: str) -> Outcome:
    """A captain protests soon after the announcement, and two coaches uphold it; what they read then."""
    await stage.wait(minutes=SOON_MINUTES)
    await _protest(stage, name, PROTEST)
    return await _decided(stage, "Uphold", TRUE)


async def rejected(stage: Stage, _cast: Cast) -> None:
    """The coach writes a protest down for a squad without accounts; two coaches reject it."""
    text = {"What was": "In our second run the sock on the rim was not counted."}
    await in_office(stage, "Records", "Protests", Pick("Write one down"), text)
    await _decided(stage, "Reject", "On the rim is not in the basket")


async def _protest(stage: Stage, name: str, text: str) -> None:
    """A captain protests."""
    phone = stage.phone(name)
    mine = await stage.do(partial(phone.command, "/my-squad", room=NEWS))
    await walk(stage, name, mine, QUESTION, {"What was": text})


async def _decided(stage: Stage, verdict: str, why: str) -> Outcome:
    """One coach proposes what becomes of the newest protest, the second one agrees and reads what follows."""
    await stage.wait(minutes=10)
    await in_room(stage, COACH, OFFICE, "Read and decide", verdict, {"Why": why})
    await stage.wait(minutes=10)
    return await in_room(stage, CO_COACH, OFFICE, "Read and agree", "I agree")
