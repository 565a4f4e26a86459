"""Sheets that are looked at twice: where judges are far apart, and those that are opened again after closing."""

from __future__ import annotations

from deploy.rehearsal.cast import score_sheets_and_close
from deploy.rehearsal.cast.people import CO_COACH, COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room, walk
from deploy.rehearsal.cast.score_sheets_and_close import mark_again
from deploy.rehearsal.cast.stage import OFFICE, Stage

WHY = {"Why": "A sheet was mixed up with another"}


async def second_look(stage: Stage, _cast: Cast) -> None:
    """The coach asks judges who are far apart to look again, and reminds who owes sheets."""
    await in_office(stage, "Who owes what", "Where judges differ", "Ask for a second look", line="/judges")
    await score_sheets_and_close.remind(stage)


async def one_sheet(stage: Stage, cast: Cast) -> None:
    """After the closing two sheets are opened again: one is closed at once, one is looked through by its judge."""
    for name, squad in zip(cast.judges[:2], (cast.groups[1].name, cast.groups[0].name), strict=True):
        one = Pick("Look at one judge", (name,))
        listed = (await in_office(stage, one, "Open a sheet again", line="/judges")).shown()
        sheet = next(option for option in listed.selects[0].options if option.label == squad)
        await walk(stage, COACH, listed, Pick("Pick a sheet", (sheet.value,)), WHY)
        await in_room(stage, CO_COACH, OFFICE, "Agree: open it again")
        if name == cast.judges[0]:
            again = Pick("Pick a sheet", (sheet.value,))
            await in_office(stage, one, "Open a sheet again", again, "Close this sheet", line="/judges")
        else:
            outcome = await mark_again(stage, cast, name, squad, parts=1)
            await walk(stage, name, outcome, "That was all")


async def all_of_it(stage: Stage, _cast: Cast) -> None:
    """One coach wants all sheets open again, the second one agrees; then judging is closed for good."""
    await in_office(stage, "Open judging again", WHY, line="/judges")
    await in_room(stage, CO_COACH, OFFICE, "Agree: open it again")
    await score_sheets_and_close.close(stage)
