"""The school's list comes late: some pick themselves from it, some wait for the coach; none of them stays."""

from __future__ import annotations

from deploy.rehearsal.cast import sign_up, students_admin
from deploy.rehearsal.cast.people import COACH, ENTERED, LET_IN, MISSPELT, NEW, TURNED_AWAY, Cast, not_taking_part
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office, in_room, walk
from deploy.rehearsal.cast.stage import OFFICE, Stage
from deploy.rehearsal.phones.user_actions import Outcome

AS_LISTED = "Tessa V"
"""How the list writes one of them."""
OTHERS = 22
"""So many more of the section stand in the school's list and do not take part."""
LIST = ("People", "Class list")


async def attached(stage: Stage, cast: Cast) -> None:
    """The coach attaches the list, with who has brought the form back, and enters one student from it."""
    others = (*not_taking_part(OTHERS), NEW, AS_LISTED, ENTERED)
    people = {**cast.students, **dict.fromkeys(others, cast.brim.section)}
    forms = ["no" if place % 7 == 0 else "yes" for place in range(len(people))]
    rows = [f"{name},{section},{form}" for (name, section), form in zip(people.items(), forms, strict=True)]
    data = "\n".join(("name,section,form back", *rows)).encode()
    await in_office(stage, *LIST, "Attach a class list", {"The class list": ("class.csv", data)})
    await in_office(stage, *LIST, "Yes and no by squad")
    await _pick(stage, COACH, await in_office(stage, *LIST, "Not signed up yet"), "Enter these students", ENTERED)
    await students_admin.a_student(stage, cast.groups[0].people[0], Pick("What has a yes?"))


async def picked(stage: Stage, cast: Cast) -> None:
    """One picks the own name; one whom the coach entered does, too, and the coach links the account."""
    section = Pick("Pick your section", (cast.brim.section,))
    for name in (NEW, ENTERED):
        await _pick(stage, name, await _joins(stage, name, section), "Pick your name", name)
    await in_room(stage, COACH, OFFICE, "Yes, link the account")


async def strangers(stage: Stage, cast: Cast) -> None:
    """Three do not find themselves: the coach lets one in, knows one by another spelling, and turns one away."""
    for name in (LET_IN, MISSPELT, TURNED_AWAY):
        values = {"Your name": name, "Your section": cast.brim.section}
        await _joins(stage, name, "My name is not there", values)
    await in_room(stage, COACH, OFFICE, "Decide", "Turn away")
    await in_office(stage, *LIST, "Waiting", Pick("Pick a student", (LET_IN,)), "Let in")
    one = await in_office(stage, *LIST, "Waiting", Pick("Pick a student", (MISSPELT,)))
    await _pick(stage, COACH, one, "This is somebody", AS_LISTED)


async def taken_away(stage: Stage, _cast: Cast) -> None:
    """The list goes again, and one who only wanted to look has no account any more."""
    await in_office(stage, *LIST, "Remove the list", "Yes, remove")
    await students_admin.a_student(stage, NEW, "Let the account go", "Yes, let it go")


async def erased(stage: Stage, _cast: Cast) -> None:
    """Three of the list, who only wanted to look, are erased by name, the one who was entered by the account."""
    for name in (NEW, AS_LISTED, LET_IN):
        await students_admin.a_student(stage, name, "Erase the name", "Yes")
    await in_office(stage, "People", Pick("Erase a person's name", (ENTERED,)), "Yes")


async def _joins(stage: Stage, name: str, *steps: Step) -> Outcome:
    phone = stage.phone(name)
    return await walk(stage, name, await stage.do(lambda: phone.press(sign_up.panel(phone), sign_up.JOIN)), *steps)


async def _pick(stage: Stage, who: str, listed: Outcome, select: str, name: str) -> Outcome:
    """Turn the pages of a list until a name stands on it, and pick it."""
    while not any(name == option.label for menu in listed.shown().selects for option in menu.options):
        listed = await walk(stage, who, listed, "Next page")
    return await walk(stage, who, listed, Pick(select, (name,)))


ALL = (attached, picked, strangers, taken_away, erased)
