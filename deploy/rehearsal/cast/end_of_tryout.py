"""The end: when nobody may protest any more the try-out is put away, and last year's plan is tried for the next one."""

from __future__ import annotations

from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.press_sequence import in_office
from deploy.rehearsal.cast.stage import Stage

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
