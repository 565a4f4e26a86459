"""The place on the team: offered, declined, lapsed, given back, accepted."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.brief_and_build_days import squad_room, told_moment
from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room, walk
from deploy.rehearsal.cast.preview_and_announcement import preview
from deploy.rehearsal.cast.stage import OFFICE, Stage, awaited
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, CastMistake
from deploy.rehearsal.wire.rendering import Shown

OFFERS = "Offer the place"
ACCEPT, FOR_SURE, DECLINE = "Accept the place", "Yes, we accept", "Decline"
NOTE = "Note what a squad says"


async def opened_page(stage: Stage, *labels: str) -> Shown:
    """The coach opens the last of these: it is the next step in the office, or is reached from the standings."""
    office = (await in_office(stage)).shown()
    at_once = labels[-1] in office.labels
    shown = office if at_once else await preview(stage)
    for label in labels[-1:] if at_once else labels:
        shown = (await stage.do(partial(stage.coach.press, shown, label))).shown()
    return shown


async def _note(stage: Stage, squad: str, said: str = "") -> Shown:
    """The coach picks a squad in the list of offers, and notes what it has said."""
    card = await in_room(stage, COACH, OFFICE, "Offers", Pick(NOTE, (squad,)))
    return (await walk(stage, COACH, card, *([said] if said else []))).shown()


async def offer(stage: Stage, cast: Cast) -> None:
    """The coach offers the place to the winner, and its captain accepts."""
    squad = await offer_first(stage)
    await stage.wait(hours=3)
    if any(group.name in squad for group in cast.on_paper):
        await _answer_for(stage, squad)
        return
    captain = await awaited_captain(stage, cast, squad)
    room = squad_room(captain, squad)
    asked = (await stage.do(partial(_press, captain, room, ACCEPT))).shown()
    await stage.do(partial(captain.press, asked, FOR_SURE))


async def _answer_for(stage: Stage, squad: str) -> None:
    """The coach notes what a squad without accounts has said."""
    panel = await opened_page(stage, OFFERS)
    noted = next(select for select in panel.selects if select.placeholder == NOTE)
    card = (await stage.do(partial(stage.coach.choose, panel, noted.placeholder, squad))).shown()
    await stage.do(partial(stage.coach.press, card, "They accept"))


async def three_places_free_again(stage: Stage, cast: Cast) -> None:
    """The first squad has to decline, the next does not answer in time, and the third gives back what it accepted."""
    squad = await offer_first(stage)
    await stage.wait(hours=3)
    if any(group.name in squad for group in cast.on_paper):
        await _note(stage, squad, "They decline")
    else:
        captain = await awaited_captain(stage, cast, squad)
        await in_room(stage, captain.person.name, squad_room(captain, squad), DECLINE, "Yes, we decline")
    await stage.wait(hours=2)
    silent = await offer_first(stage)
    card = await _note(stage, silent)
    await stage.until(told_moment(card.text, "can answer until"))
    await stage.wait(hours=15)
    await _note(stage, silent, "Let it lapse")
    await stage.wait(hours=2)
    glad = await offer_first(stage)
    await _note(stage, glad, "They accept")
    await stage.wait(hours=20)
    await _note(stage, glad, "They give it back")


async def offer_first(stage: Stage) -> str:
    """Offer the place to the squad that stands first in the list; returns its label, or nothing if no place is left."""
    coach = stage.coach
    panel = await opened_page(stage, OFFERS)
    offered = next((select for select in panel.selects if select.placeholder.startswith("Offer")), None)
    if offered is None:
        return ""
    squad = offered.options[0].label
    form = (await stage.do(partial(coach.choose, panel, offered.placeholder, squad))).form
    if form is not None:
        texts = {field.label: "a place on the robot team" for field in form.fields if not field.options}
        await stage.do(partial(coach.fill, form, texts))
    return squad


async def awaited_captain(stage: Stage, cast: Cast, squad: str) -> Phone:
    """The phone of the captain, found by who may press: others are told that it is the captain's to answer."""
    people = next(group.people for group in cast.groups if group.name in squad or squad in group.name)
    for name in people:
        phone = stage.phone(name)
        room = squad_room(phone, squad)
        await awaited(stage, partial(phone.with_button, room, ACCEPT))
        outcome = await stage.do(partial(_press, phone, room, ACCEPT))
        if outcome.message is not None and FOR_SURE in outcome.message.labels:
            return phone
    raise CastMistake(f"nobody of {squad} may accept the place")


def _press(phone: Phone, room: str, label: str) -> Act:
    return phone.press(phone.with_button(room, label), label)
