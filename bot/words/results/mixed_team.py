"""A team picked from several squads: the coach's page, what squads read, and each student's answer."""

from collections.abc import Sequence
from datetime import datetime
from functools import partial
from typing import Literal

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.finality import Doubt
from bot.rules.results.mixed_team import MOST_AT_ONCE, can_be_asked, is_over
from bot.words.core.buttons import BACK, MY_SQUAD, RECORDS
from bot.words.core.changed_meanwhile import LIST_CHANGED
from bot.words.core.choices import choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.lists_in_text import listing
from bot.words.core.mentions import called, to_ring
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full, full_and_relative
from bot.words.results.finality import coach_line, not_sure_yet
from bot.words.results.place_offers import TOO_LATE, days_field
from storage.records.message import FORM_LABEL, Button, Form, Message, Row
from storage.records.people import Squad, Student
from storage.records.results import MemberOffer

REFUSALS = {
    ResultReason.TEAM_EARLY: "Places can be offered to single students once the result is announced.",
    ResultReason.TEAM_NOTHING: "No place waits for an answer there.",
}
_STATES = {
    "accepted": "Said yes",
    "open": "Asked, no answer yet",
    "lapsed": "Did not answer in time",
    "declined": "Declined",
    "alternate": "Alternates",
}
"""How offers stand, in the order in which the coach reads them: the team first."""
_TEAM = Button(key=key(ClassKey.TEAM, 0), label="The team")
_MINE = Button(key=key(ClassKey.TEAM_MINE), label="My place in the team", style="main")


def stamp_of(offer: MemberOffer) -> str:
    """What a button about an offer carries: who has answered since, or was asked anew, is not overwritten."""
    return shown_stamp(offer.state, offer.made_at)


def page(
    offers: Sequence[MemberOffer],
    rows: Sequence[tuple[Student, Squad]],
    page: int,
    why: Doubt | None,
    now: datetime,
    changed: bool = False,
) -> Message:
    """The team as it stands, and whom else a place can be offered; `changed`: somebody has answered meanwhile."""
    names = {one.id: f"{escape(one.name)} ({escape(squad.name)})" for one, squad in rows}
    lines = [
        f"{LIST_CHANGED if changed else ''}**The team, from several squads**",
        "Each student answers alone. For whole squads use **Offers**.",
        coach_line(why),
    ]
    for state, said in _STATES.items():
        head = "In the team" if state == "accepted" and why is None else said
        of_state = [offer for offer in offers if offer.state == state]
        for until in dict.fromkeys(offer.answer_by if state == "open" else None for offer in of_state):
            found = [one for one in of_state if state != "open" or one.answer_by == until]
            told = listing([names.get(offer.student_id, "?") for offer in found])
            lines.append(f"{head} ({len(found)}): {told}{_until(until, now)}")
            lines += _unread(found, rows)
    free = tuple(choice(one.id, one.name, squad.name) for one, squad in can_be_asked(rows, offers))
    plain = {one.id: one.name for one, _ in rows}
    known = tuple(
        choice(offer.student_id, plain[offer.student_id], _STATES[offer.state])
        for offer in offers
        if offer.student_id in plain
    )
    turn = partial(key, ClassKey.TEAM)
    alternate = key(ClassKey.TEAM_OFFERED, "alternate")
    lists = (
        list_page(free, page, "Offer a place", key(ClassKey.TEAM_ASK), turn, most=MOST_AT_ONCE),
        list_page(free, page, "Keep as an alternate", alternate, turn, most=MOST_AT_ONCE),
        list_page(known, page, "Note an answer, or take an offer back", key(ClassKey.TEAM_SETTLE), turn),
    )
    # All lists turn together: one row of buttons serves them.
    longest = lists[2] if len(known) > len(free) else lists[0]
    parts: list[Row] = [select for one in lists for select in one.select]
    parts.append((*longest.turns, RECORDS, BACK))
    return whole_message("\n".join(lines) + longest.line, parts)


def _unread(offers: Sequence[MemberOffer], rows: Sequence[tuple[Student, Squad]]) -> list[str]:
    """Who of those asked reads nothing here, so that the coach asks in person."""
    asked = {offer.student_id for offer in offers if offer.state == "open"}
    names = [escape(one.name) for one, _ in rows if one.id in asked and one.platform_id is None]
    return [f"Without an account here, so please ask in person: {listing(names)}"] if names else []


def _until(until: datetime | None, now: datetime) -> str:
    """How long those who were asked can answer, or could."""
    if until is None:
        return ""
    return f"; {'can answer' if now < until else 'could answer'} until {full_and_relative(until)}"


def offer_form(people: Sequence[Student]) -> Form:
    """How long those who were picked may think."""
    return Form(
        key=key(ClassKey.TEAM_OFFERED, "open", *(one.id for one in people)),
        title=cut(f"Offer a place to {listing([one.name for one in people])}", FORM_LABEL),
        fields=(days_field(),),
    )


def settle(one: Student, offer: MemberOffer, now: datetime) -> Message:
    """What the coach may note of an offer: an answer given in person, that it lapses, that it is taken back."""
    name, about = f"**{escape(one.name)}**", (one.id, stamp_of(offer))
    yes = Button(key=key(ClassKey.TEAM_SETTLED, "accepted", *about), label="The answer is yes", style="good")
    no = Button(key=key(ClassKey.TEAM_SETTLED, "declined", *about), label="The answer is no")
    lapse = Button(key=key(ClassKey.TEAM_SETTLED, "lapsed", *about), label="Let it lapse", style="danger")
    back = Button(key=key(ClassKey.TEAM_SETTLED, "back", *about), label="Take it back", style="danger")
    if is_over(offer, now):
        assert offer.answer_by is not None
        text = (
            f"{name} could answer until {full_and_relative(offer.answer_by)}. Note the answer that you were told, or "
            "let the offer lapse, and ask an alternate."
        )
        return Message(text=text, rows=((yes, no, lapse), (_TEAM,)))
    if offer.state == "open":
        can = f" can answer until {full_and_relative(offer.answer_by)}" if offer.answer_by else " has not answered yet"
        text = (
            f"{name}{can}. Note here what you were told. Was the place offered by mistake? You can take it back: the "
            "squad's room reads so."
        )
        return Message(text=text, rows=((yes, no, back), (_TEAM,)))
    text = {
        "accepted": f"{name} has said yes. If the place cannot be taken after all, take it back: the squad's room "
        "reads so, and you can ask an alternate.",
        "declined": f"{name} has declined the place. Take this off the list, or offer the place anew in **The team**.",
        "lapsed": f"{name} did not answer in time. Take this off the list, or offer the place anew in **The team**.",
        "alternate": f"{name} is kept as an alternate, and does not know. Take this off the list, or offer a place in "
        "**The team**.",
    }[offer.state]
    off = back if offer.state == "accepted" else Button(key=back.key, label="Take it off the list")
    return Message(text=text, rows=((off,), (_TEAM,)))


@posted(Sign.OFFER)
def offered_in_room(one: Student, until: datetime) -> Message:
    """Told in the room of the student's squad."""
    how = "then tell your coach the answer" if one.platform_id is None else "then answer with the button"
    return Message(
        text=f"{called([one], True)} is offered a place in the team. Please talk it over at home, {how} until "
        f"{full(until)}.",
        ping=to_ring([one]),
        rows=() if one.platform_id is None else ((_MINE,),),
    )


@posted(Sign.OFFER)
def reminder(people: Sequence[Student], until: datetime) -> Message:
    """Shortly before the last moment to answer, in the room of the squad of those who still owe the answer."""
    return Message(
        text=f"{called(people, True)}: a place in the team is still offered to you. Please answer until {full(until)}, "
        "with the button or through your coach. After that it may go to somebody else.",
        ping=to_ring(people),
        rows=((_MINE,),) if to_ring(people) else (),
    )


@posted(Sign.OFFER)
def ended_in_room(one: Student) -> Message:
    """Told there when the coach has noted a no, or has taken the offer back."""
    return Message(
        text=f"The place in the team is not offered to {escape(one.name)} any more. Questions? Talk to your coach."
    )


@posted(Sign.OFFER)
def lapsed_in_room(one: Student) -> Message:
    """Told there when the coach lets an offer lapse."""
    return Message(
        text=f"The time to answer is over, so the place in the team is no longer offered to {escape(one.name)}. "
        "Questions? Talk to your coach."
    )


def overdue(people: Sequence[Student]) -> Message:
    """The office reads who has not answered; the coach decides."""
    names, has = listing([f"**{escape(one.name)}**" for one in people]), "has" if len(people) == 1 else "have"
    return Message(
        text=f"{names} {has} not answered the offer of a place in time. You can wait, note an answer, or let it lapse "
        "and ask an alternate.",
        rows=((_TEAM,),),
    )


def to_student(one: Student, offer: MemberOffer, why: Doubt | None) -> Message:
    """Yes or no."""
    yes = Button(key=key(ClassKey.TEAM_YES), label="Yes, I want the place", style="main")
    no = Button(key=key(ClassKey.TEAM_NO), label="No, thank you")
    until = f" You can answer until {full(offer.answer_by)}." if offer.answer_by else ""
    return Message(
        text=f"**{escape(one.name)}**, your coach offers you a place in the team. Do you want it?{until}"
        f"{not_sure_yet(why)}",
        rows=((yes, no),),
    )


def too_late() -> Message:
    """Pressed once the coach has let the offer lapse."""
    return Message(text=TOO_LATE)


def said_no() -> Message:
    """Pressed again after a no."""
    return Message(text="You have said no to the place. Was that a mistake? Tell your coach.")


def thanks(what: Literal["accepted", "declined"], why: Doubt | None) -> Message:
    """The answer is in."""
    yes = "You are in the team. Your coach knows." if why is None else f"You have said yes.{not_sure_yet(why)}"
    text = yes if what == "accepted" else "Thank you for saying so. Your coach knows."
    return Message(text=text, rows=((MY_SQUAD,),))


def to_office(one: Student, what: Literal["accepted", "declined"]) -> Message:
    """Told in the office."""
    said = (
        "has said yes to the place in the team"
        if what == "accepted"
        else "does not want the place in the team: ask an alternate"
    )
    return Message(text=f"**{escape(one.name)}** {said}.", rows=((_TEAM,),))
