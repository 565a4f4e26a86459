"""The end: the typist is dismissed, and when nobody may protest any more the try-out is put away."""

from __future__ import annotations

from deploy.rehearsal.cast.people import TYPIST, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office
from deploy.rehearsal.cast.stage import Stage

PROTEST_DAYS = 7
"""So long after the announcement nobody may protest any more."""


async def put_away(stage: Stage, _cast: Cast) -> None:
    """The try-out is put away; for the next one the coach types the date of the last one by mistake."""
    await stage.wait(days=PROTEST_DAYS)
    await in_office(stage, "Put the try-out away", "Yes, put it away")
    await in_office(stage, "Last year's plan", {"Date of the brief": "2027-01-11"})


async def thanks(stage: Stage, _cast: Cast) -> None:
    """All paper is typed in: the typist is dismissed."""
    await in_office(stage, "People", "Coaches and helpers", Pick("Dismiss a helper", (TYPIST,)))
