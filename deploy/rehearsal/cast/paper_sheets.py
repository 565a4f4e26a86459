"""Sheets that a judge filled in on paper: typed in twice by two people, settled where they differ, and seen again."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.people import COACH, TYPIST, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, walk
from deploy.rehearsal.cast.score_sheets_and_close import mark_again
from deploy.rehearsal.cast.stage import NEWS, Stage
from deploy.rehearsal.phones.user_actions import Outcome


async def typed_in(stage: Stage, cast: Cast) -> None:
    """Of two sheets that were typed in twice and differ, one is settled from the paper, one is thrown away."""
    judge = cast.judges[1]
    await in_office(stage, Pick("Print the sheets", (judge,)), line="/paper")
    phone, typed = stage.phone(TYPIST), Outcome("nothing")
    whose, squads = Pick("Pick the judge", (judge,)), [group.name for group in cast.groups[:2]]
    for squad in squads:
        doors = await stage.do(partial(phone.command, "/my-squad", room=NEWS))
        opened = await walk(stage, TYPIST, doors, "Paper", whose, Pick("Pick the squad", (squad,)))
        typed = await _type(stage, TYPIST, opened, 0)
    await walk(stage, TYPIST, typed, "Next paper sheet")
    for squad, steps in zip(squads, (("Settle it",), ("Type both again",)), strict=True):
        picks = (whose, Pick("Pick the squad", (squad,)))
        opened = await in_office(stage, "Type in score sheets", *picks, line="/paper")
        differs = await _type(stage, COACH, opened, 1)
        settled = await walk(stage, COACH, differs, *steps)
        if settled.form is not None:
            await _type(stage, COACH, settled, 1)


async def corrected(stage: Stage, cast: Cast) -> None:
    """The judge looks at what was typed in, and marks that sheet anew."""
    await mark_again(stage, cast, cast.judges[1], cast.groups[0].name)


async def _type(stage: Stage, name: str, outcome: Outcome, level: int) -> Outcome:
    """Type a sheet as it stands on paper, form after form; the level of a question is the same everywhere."""
    while outcome.form is not None:
        form = outcome.form
        marks = {field.label: field.options[level].label for field in form.fields if field.options}
        outcome = await stage.do(partial(stage.phone(name).fill, form, marks))
        if outcome.message is not None and "Go on typing" in outcome.message.labels:
            outcome = await walk(stage, name, outcome, "Go on typing")
    return outcome
