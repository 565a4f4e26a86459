"""The place: offered to a squad, answered by its captain, or let lapse to the next in line."""

from collections.abc import Sequence
from datetime import datetime
from functools import partial

from bot.rules.core.refusal_reasons import AnyReason
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results import place_offers as rules
from bot.rules.results.finality import Doubt
from bot.rules.results.place_offers import DAYS, LONGEST, SHORTEST, USUAL_DAYS
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SQUAD, STANDINGS
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.mentions import called, to_ring
from bot.words.core.number_text import count
from bot.words.core.pages import pages
from bot.words.core.plain_text import as_sentence, cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full, full_and_relative, school_day_after
from bot.words.results.feedback import FEEDBACK
from bot.words.results.finality import coach_line, not_sure_yet
from bot.words.scoring.result_view import ResultView
from storage.records.message import FORM_LABEL, Button, Form, Message, Row, SelectField, TextField
from storage.records.people import Squad, Student
from storage.records.results import Offer

USUAL = "the place on the team, for the whole squad"
STATES = {
    "open": "has not answered yet",
    "accepted": "has accepted",
    "declined": "has declined",
    "lapsed": "did not answer in time",
}

REFUSALS: dict[AnyReason, str] = {
    ResultReason.PLACE_WAITS: "A protest is not settled, so the place does not pass on yet. Decide the protest first: "
    "**Records**, then **Protests**.",
    ResultReason.NOT_IN_LINE: "The place cannot be offered to **{squad}** now. Open the offers again to see who is "
    "next.",
    ResultReason.OFFER_RUNS: "**{name}** was told that the last moment to answer is <t:{until}:F>. The offer can lapse "
    "after that; what they tell you before, you can note.",
    ResultReason.OFFER_SETTLED: "That offer is settled already: **{squad}** {state}.",
    ResultReason.ONLY_CAPTAIN_ANSWERS: "Only the captain of **{squad}** can answer for it. Ask your captain, or your "
    "coach.",
}

PANEL = Button(key=key(ActionKey.OFFER_PANEL), label="Offers")
OFFER = PANEL.model_copy(update={"label": "Offer the place"})
TOO_LATE = (
    "The time to answer is over, so the place is no longer offered to you. Do you have questions? Ask your coach."
)


def offers_panel(
    result: ResultView, offers: Sequence[Offer], line: Sequence[int], why: Doubt | None, now: datetime, page: int = 0
) -> Message:
    """Who was asked, what they said, who is next, and why nothing is final yet."""
    places = result.plan.places
    lines = [
        f"**The place**: {count(places, 'place')}." if places == 1 else f"**The places**: {count(places, 'place')}."
    ]
    lines.append(coach_line(why))
    rows: list[Row] = []
    turn = partial(key, ActionKey.OFFER_PANEL)
    lines += [f"- {result.name(offer.squad_id)} {_stands(offer, now)}" for offer in rules.in_order(offers)]
    others = rules.unknown_to_class(offers, result.standings.placed)
    if others:
        names = listing(result.names(others))
        lines.append(f"The class has not read that {names} said yes: tell it yourself, once all is sure.")
    noted = [offer for offer in rules.in_order(offers) if rules.noted_by_coach(offer)]
    if noted:
        choices = [choice(one.id, result.squads[one.squad_id].name) for one in noted]
        asked = list_page(choices, page, "Note what a squad says", key(ActionKey.OFFER_SETTLE), turn)
        rows += asked.rows if len(noted) >= len(line) else asked.select
    if line:
        lines.append(f"Next in line: {listing(result.names(line))}.")
        if len(line) > 1 and places == 1:
            lines.append("They are exactly equal; you choose, best by a lot drawn in public.")
        choices = [choice(squad, result.squads[squad].name) for squad in line]
        listed = list_page(choices, page, "Offer the place to …", key(ActionKey.OFFER_ASK), turn)
        # Both lists turn together: one row of buttons serves both.
        rows += listed.rows if len(line) > len(noted) else listed.select
    elif not noted:
        lines.append("Nobody is left in line.")
    rows.append(
        (
            FEEDBACK.model_copy(update={"style": "plain" if rows else "main"}),
            STANDINGS,
        )
    )
    return Message(text=pages(["\n".join(lines)])[0], rows=tuple(rows))


def _stands(offer: Offer, now: datetime) -> str:
    """How an offer stands. Whoever has given the place back has not declined it, so one word is for both."""
    if offer.state == "declined":
        return "does not take the place"
    if offer.state != "open":
        return STATES[offer.state]
    until = full_and_relative(offer.answer_by)
    return f"did not answer until {until}" if rules.is_over(offer, now) else f"{STATES['open']}; it can until {until}"


def offers_form(squad: Squad) -> Form:
    """What is offered, and how long the squad may think."""
    title = f"Offer the place to {squad.name}"
    return Form(
        key=key(ActionKey.OFFER_MADE, squad.id),
        title=cut(title, FORM_LABEL),
        fields=(
            TextField(
                key="what",
                label="What you offer",
                hint="Say whom the place is for, and what it asks of them.",
                value=USUAL,
                least=SHORTEST,
                most=LONGEST,
                long=True,
            ),
            days_field(),
        ),
    )


def days_field() -> SelectField:
    """How long they may think, to a squad or to students."""
    days = tuple(choice(day, school_day_after(day), chosen=day == USUAL_DAYS) for day in DAYS)
    return SelectField(key="days", label="They can answer until the evening of", choices=days)


@posted(Sign.OFFER)
def offered(squad: Squad, offer: Offer, captain: Sequence[Student] = (), why: Doubt | None = None) -> Message:
    """What the squad reads in its own room; it rings for the captain, who answers."""
    return Message(
        text=f"**{escape(squad.name)}, the place is offered to you.**\n"
        f"It is {as_sentence(offer.what)}\n"
        "Talk it over with each other and at home: everyone in the squad, and their parents, should agree. "
        f"{_answers(captain)} can answer here until {full(offer.answer_by)}.{not_sure_yet(why)}",
        ping=to_ring(captain),
        rows=(_answer_row(offer),),
    )


def _answer_row(offer: Offer) -> tuple[Button, ...]:
    """The captain's two answers; each is asked about once more."""
    return (
        Button(key=key(ActionKey.OFFER_ACCEPT, offer.id), label="Accept the place", style="good"),
        Button(key=key(ActionKey.OFFER_DECLINE, offer.id), label="Decline"),
    )


def made(squad: Squad, offer: Offer) -> Message:
    """The coach reads that it is offered."""
    return Message(
        text=f"The place is offered to **{escape(squad.name)}**, in its room. "
        f"They can answer until {full_and_relative(offer.answer_by)}. I will tell you here in the office.",
        rows=((PANEL,),),
    )


def offers_sure(squad: Squad, offer: Offer, answer: str, why: Doubt | None = None) -> Message:
    """Ask the captain once."""
    if answer == "accepted":
        text = f"Accept for **{escape(squad.name)}**? Everyone in the squad, and their parents, should have agreed."
        text += not_sure_yet(why)
        button = Button(key=key(ActionKey.OFFER_ACCEPTED, offer.id), label="Yes, we accept", style="good")
    else:
        text = (
            f"Decline for **{escape(squad.name)}**? The place then goes to the next squad, and you cannot take it back."
        )
        button = Button(key=key(ActionKey.OFFER_DECLINED, offer.id), label="Yes, we decline", style="danger")
    return Message(text=text, rows=((button, MY_SQUAD),))


def thanks(answer: str, why: Doubt | None) -> Message:
    """The captain reads that the answer is noted."""
    if answer == "accepted" and why is not None:
        return Message(text=f"You have said yes for your squad.{not_sure_yet(why)}")
    if answer == "accepted":
        return Message(text="You have accepted the place. Congratulations! Your coach will tell you what comes next.")
    return Message(text="You have declined the place. Thank you for telling us.")


@posted(Sign.OFFER)
def told_squad(answer: str, why: Doubt | None) -> Message:
    """The squad's room reads what was answered for it."""
    if answer == "accepted" and why is not None:
        return Message(text=f"Your squad has **said yes** to the place.{not_sure_yet(why)}")
    word = {
        "accepted": "Your squad has **accepted** the place. Your coach will tell you what comes next.",
        "declined": "Your squad has **declined** the place.",
        "lapsed": TOO_LATE,
    }[answer]
    return Message(text=word)


def told_office(squad: Squad, answer: str, why: Doubt | None) -> Message:
    """The office reads the answer."""
    what = "" if answer == "lapsed" else " the place"
    more = f" {coach_line(why)}" if why is not None and answer == "accepted" else ""
    return Message(text=f"**{escape(squad.name)}** {STATES[answer]}{what}.{more}", rows=((PANEL,),))


def settle(squad: Squad, offer: Offer, over: bool) -> Message:
    """The coach notes an answer given in person, or lets the offer lapse once the time to answer is `over`."""
    answers = (
        Button(key=key(ActionKey.OFFER_ACCEPTED, offer.id), label="They accept", style="good"),
        Button(key=key(ActionKey.OFFER_DECLINED, offer.id), label="They decline"),
    )
    lapse = Button(key=key(ActionKey.OFFER_LAPSED, offer.id), label="Let it lapse", style="danger")
    if over:
        text = f"**{escape(squad.name)}** could answer until {full_and_relative(offer.answer_by)}. "
        text += "Note what they told you, or let the offer lapse, so that the next squad can be asked."
    else:
        text = f"**{escape(squad.name)}** can answer until {full_and_relative(offer.answer_by)}. "
        text += "Note here what they told you. After that time you can let the offer lapse."
    return Message(text=text, rows=((*answers, lapse) if over else answers, (PANEL,)))


def may_give_back(squad: Squad, offer: Offer) -> Message:
    """The coach notes that a squad which had accepted cannot take the place after all."""
    back = Button(key=key(ActionKey.OFFER_GIVEN_BACK, offer.id), label="They give it back", style="danger")
    return Message(
        text=f"**{escape(squad.name)}** has accepted the place. If it cannot take it after all, note that here: "
        "its room reads it, and the next squad can be asked. The squad is not asked again.",
        rows=((back,), (PANEL,)),
    )


@posted(Sign.OFFER)
def given_back_in_room() -> Message:
    """The squad's room reads that it has given the place back."""
    text = "Your coach has noted that your squad gives the place back. If that is not so, tell your coach today."
    return Message(text=text)


def given_back(squad: Squad) -> Message:
    """The office reads it."""
    return Message(text=f"**{escape(squad.name)}** gives the place back.", rows=((PANEL,),))


@posted(Sign.OFFER)
def reminder(squad: Squad, offer: Offer, captain: Sequence[Student] = ()) -> Message:
    """Shortly before the deadline, in the squad's room; it rings for the captain."""
    return Message(
        text=f"**{escape(squad.name)}**, the place is still offered to you. "
        f"{_answers(captain)} can answer until {full(offer.answer_by)}. After that it may go to another squad.",
        ping=to_ring(captain),
        rows=(_answer_row(offer),),
    )


def _answers(captain: Sequence[Student]) -> str:
    return f"Your captain {called(captain, True)}" if captain else "Your captain"


def overdue(squad: Squad) -> Message:
    """The office reads that nobody has answered; the coach decides."""
    return Message(
        text=f"**{escape(squad.name)}** has not answered the offer in time. "
        "You can wait, note their answer, or let it lapse and ask the next squad.",
        rows=((PANEL,),),
    )
