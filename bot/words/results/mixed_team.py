"""A team picked from several squads: the coach's page, what squads read, and each student's answer."""

from collections.abc import Sequence
from typing import Literal

from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.results.finality import Doubt
from bot.rules.results.mixed_team import MOST_AT_ONCE, holds_a_place
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import LIST_CHANGED, PAGE, choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.mentions import called, to_ring
from bot.words.core.pages import page_line, turning, whole_message, within
from bot.words.core.plain_text import escape, listing
from bot.words.core.signs import Sign, posted
from bot.words.results.finality import coach_line, not_sure_yet
from bot.words.results.protests import RECORDS
from storage.records.message import Button, Message, Row, Select
from storage.records.offers_and_feedback import MemberOffer
from storage.records.people import Squad, Student

REFUSALS = {
    ClassReason.TEAM_EARLY: "Places can be offered to single students once the result is announced.",
    ClassReason.TEAM_NOTHING: "No place waits for an answer there.",
}
_STATES = {
    "accepted": "Said yes",
    "open": "Asked, no answer yet",
    "declined": "Declined",
    "alternate": "Alternates",
}


def stamp_of(offers: Sequence[MemberOffer]) -> str:
    """What the list to take offers back carries: who has said yes since keeps the place."""
    return shown_stamp([(one.student_id, one.state) for one in offers])


def page(
    offers: Sequence[MemberOffer],
    rows: Sequence[tuple[Student, Squad]],
    page: int,
    why: Doubt | None,
    changed: bool = False,
) -> Message:
    """The team as it stands, and whom else a place can be offered; `changed`: somebody has answered meanwhile."""
    names = {one.id: f"{escape(one.name)} ({escape(squad.name)})" for one, squad in rows}
    lines = [
        f"{LIST_CHANGED if changed else ''}**The team, from several squads**",
        "Each student answers alone. For whole squads use **Offers**.",
        coach_line(why),
    ]
    for state, title in _STATES.items():
        found = [names.get(offer.student_id, "?") for offer in offers if offer.state == state]
        if found:
            lines.append(
                f"{'In the team' if state == 'accepted' and why is None else title} ({len(found)}): {listing(found)}"
            )
    taken = {offer.student_id for offer in offers if holds_a_place(offer)}
    free = [(one, squad) for one, squad in rows if one.id not in taken]
    parts: list[Row] = []
    pages = max(1, -(-len(free) // PAGE))
    page = within(page, pages)
    choices = tuple(choice(one.id, one.name, squad.name) for one, squad in free[page * PAGE : (page + 1) * PAGE])
    if choices:
        most = min(MOST_AT_ONCE, len(choices))
        offered, kept = key(ClassKey.TEAM_OFFERED, "open"), key(ClassKey.TEAM_OFFERED, "alternate")
        parts.append(Select(key=offered, prompt="Offer a place", choices=choices, most=most))
        parts.append(Select(key=kept, prompt="Keep as an alternate", choices=choices, most=most))
    plain = {one.id: one.name for one, _ in rows}
    known = [offer for offer in offers if offer.student_id in plain][:PAGE]
    if known:
        asked = tuple(choice(offer.student_id, plain[offer.student_id], _STATES[offer.state]) for offer in known)
        parts.append(
            Select(
                key=key(ClassKey.TEAM_SETTLED, "back", stamp_of(offers)),
                prompt="Note a no, or take an offer back",
                choices=asked,
            )
        )
    waiting = tuple(choice(offer.student_id, plain[offer.student_id]) for offer in known if offer.state == "open")
    if waiting:
        yes = key(ClassKey.TEAM_SETTLED, "accepted", stamp_of(offers))
        parts.append(Select(key=yes, prompt="Note a yes", choices=waiting))
    parts.append((*turning(ClassKey.TEAM, page, pages), RECORDS, BACK))
    return whole_message("\n".join(lines) + page_line(page, pages), parts)


@posted(Sign.OFFER)
def offered_in_room(one: Student) -> Message:
    """Told in the room of the student's squad."""
    return Message(
        text=f"{called([one], True)} is offered a place in the team. Please talk it over at home, then answer with the "
        "button.",
        ping=to_ring([one]),
        rows=((Button(key=key(ClassKey.TEAM_MINE), label="My place in the team", style="main"),),),
    )


@posted(Sign.OFFER)
def ended_in_room(one: Student) -> Message:
    """Told there when the coach has noted a no, or has taken the offer back."""
    return Message(
        text=f"The place in the team is not offered to {escape(one.name)} any more. Questions? Talk to your coach."
    )


def to_student(one: Student, why: Doubt | None) -> Message:
    """Yes or no."""
    yes = Button(key=key(ClassKey.TEAM_YES), label="Yes, I want the place", style="main")
    no = Button(key=key(ClassKey.TEAM_NO), label="No, thank you")
    return Message(
        text=f"**{escape(one.name)}**, your coach offers you a place in the team. Do you want it?{not_sure_yet(why)}",
        rows=((yes, no),),
    )


def said_no() -> Message:
    """Pressed again after a no."""
    return Message(text="You have said no to the place. Was that a mistake? Tell your coach.")


def thanks(what: Literal["accepted", "declined"], why: Doubt | None) -> Message:
    """The answer is in."""
    mine = Button(key=key(ActionKey.SQUAD_MINE), label="My squad")
    yes = "You are in the team. Your coach knows." if why is None else f"You have said yes.{not_sure_yet(why)}"
    text = yes if what == "accepted" else "Thank you for saying so. Your coach knows."
    return Message(text=text, rows=((mine,),))


def to_office(one: Student, what: Literal["accepted", "declined"]) -> Message:
    """Told in the office."""
    see = Button(key=key(ClassKey.TEAM, 0), label="The team")
    said = (
        "has said yes to the place in the team"
        if what == "accepted"
        else "does not want the place in the team: ask an alternate"
    )
    return Message(text=f"**{escape(one.name)}** {said}.", rows=((see,),))
