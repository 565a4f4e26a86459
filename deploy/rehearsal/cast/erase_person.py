"""People are erased: those who only wanted to look, one of them by the account, and one who has moved away."""

from __future__ import annotations

from deploy.rehearsal.cast.class_list import AS_LISTED
from deploy.rehearsal.cast.people import ENTERED, LET_IN, NEW, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.cast.students_admin import NEWCOMER, a_student


async def who_only_looked(stage: Stage, _cast: Cast) -> None:
    """Three students of the list are erased by name, the one who was entered by the account."""
    for name in (NEW, AS_LISTED, LET_IN):
        await a_student(stage, name, "Erase the name", "Yes")
    await in_office(stage, "People", Pick("Erase a person's name", (ENTERED,)), "Yes")


async def moved_away(stage: Stage, _cast: Cast) -> None:
    """A student who has left for good is erased."""
    await a_student(stage, NEWCOMER, "Erase the name", "Yes")
