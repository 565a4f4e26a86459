"""What a coach does with students: entered, put right, joined, seated, found, erased; the others sit as before."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office, walk
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.cast.try_out_setup import office, press_on
from deploy.rehearsal.cast.wishes_and_proposals import PROPOSE
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.wire.rendering import Shown

NEWCOMER, CORRECTED, SAME = "Pim Y", "Pim Yi", "Pimm Y"
"""Has no account, is misspelt, and is entered twice."""
OUT, PLACE = "Take out of the squad", "Place in a squad"
SEAT_ALL, ANYWAY = "Seat all", "Place anyway"
"""Are there only if somebody with an account has not answered; only if the squad is full."""


async def an_entered_student(stage: Stage, cast: Cast) -> None:
    """A student without an account is entered twice, corrected, made one, seated, taken out, and squeezed in."""
    for name in (NEWCOMER, SAME):
        await in_office(stage, "People", "Enter a student", {"Name": name, "Section": cast.brim.section})
    await a_student(stage, NEWCOMER, "Correct name", {"Name": CORRECTED})
    await a_student(stage, CORRECTED, "Undo")
    await a_student(stage, NEWCOMER, "Join two", Pick("Pick the other", (SAME,)), "Yes, they are one")
    await in_office(stage, *PROPOSE, "Accept")
    seats = (await in_office(stage, "People", "Propose squads")).shown()
    if _has(seats, SEAT_ALL):
        await walk(stage, COACH, seats, SEAT_ALL)
    page = (await a_student(stage, NEWCOMER)).shown()
    if cast.brim.name not in page.text:
        if OUT in page.labels:
            await walk(stage, COACH, page, OUT, "Yes, take out")
        placed = (await a_student(stage, NEWCOMER, "Place in", Pick("Pick a squad", (cast.brim.name,)))).shown()
        if _has(placed, ANYWAY):
            await walk(stage, COACH, placed, ANYWAY, {"Why": "Two of them share a seat on the bus"})
    await a_student(stage, NEWCOMER, OUT, "Yes, take out")
    await a_student(stage, cast.brim.people[1], "Make captain")
    await a_student(stage, cast.brim.people[0], "Make captain")


async def found_by_letters(stage: Stage, cast: Cast) -> None:
    """The coach finds a squad by a few letters of its name."""
    await in_office(stage, "People", "Find", {"A student or a squad": cast.brim.name[:4]})


async def leaves_for_good(stage: Stage, _cast: Cast) -> None:
    """The student whom the coach entered has moved away."""
    await a_student(stage, NEWCOMER, "Leaves for good", {"Why": "Has moved away"})


async def erased(stage: Stage, _cast: Cast) -> None:
    """The student who has left for good is erased."""
    await a_student(stage, NEWCOMER, "Erase the name", "Yes")


async def place_lonely(stage: Stage, name: str) -> str:
    """Place a student whom no squad has taken into the first squad that is offered; returns its label, if any."""
    coach = stage.coach
    shown = (await press_on(stage, await office(stage), "People", "Students")).shown()
    label = next((option.label for option in shown.selects[0].options if name in option.label), "")
    if not label:
        # Those without a squad come first: this one has a squad.
        return ""
    card = (await stage.do(partial(coach.choose, shown, "Pick a student", label))).shown()
    if PLACE not in card.labels:
        return ""
    offered = (await press_on(stage, card, PLACE)).shown()
    squad = offered.selects[0].options[0].label
    await stage.do(partial(coach.choose, offered, "Pick a squad", squad))
    return squad


async def a_student(stage: Stage, name: str, *steps: Step) -> Outcome:
    """The coach opens a student's page and walks on."""
    listed = (await in_office(stage, "People", "Students")).shown()
    while not any(name == option.label for select in listed.selects for option in select.options):
        listed = (await walk(stage, COACH, listed, "Next page")).shown()
    return await walk(stage, COACH, listed, Pick("Pick a student", (name,)), *steps)


def _has(shown: Shown, label: str) -> bool:
    return any(there.startswith(label) for there in shown.labels)
