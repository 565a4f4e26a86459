"""The trial: an invented entry that some judges mark before their first sheet."""

from __future__ import annotations

from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room, walk
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.world.state import DIRECT_MESSAGES

SAMPLE = "A sheet with one big arrow, three colours, and no word about who drew what."
GO_ON = "Go on with the sample"
MARKING = 3
"""So many judges mark the invented entry."""


async def a_trial(stage: Stage, cast: Cast) -> None:
    """Some judges mark an invented entry and compare; then the coach closes the trial."""
    await in_office(stage, "Judges", "Trial", "Begin a trial", Pick("Pick a rubric"), {"What the judges read": SAMPLE})
    for name in cast.judges[:MARKING]:
        await _mark(stage, name, await in_room(stage, name, DIRECT_MESSAGES, "See the sample", "Mark the sample"))
    await in_room(stage, cast.judges[0], DIRECT_MESSAGES, "See the sample", "How I compare")
    await in_office(stage, "Judges", "Trial", "Close the trial")


async def _mark(stage: Stage, name: str, outcome: Outcome) -> None:
    """Mark the invented entry, form after form."""
    while outcome.form is not None:
        marked = [field for field in outcome.form.fields if field.options]
        marks = {one.label: stage.chance("trial", name, one.label).choice(one.options).label for one in marked}
        outcome = await walk(stage, name, outcome, marks)
        if outcome.message is not None and GO_ON in outcome.message.labels:
            outcome = await walk(stage, name, outcome, GO_ON)
