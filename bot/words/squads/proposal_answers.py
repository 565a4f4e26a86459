"""The squad that is proposed to a student, and what is said of the answer."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.buttons import MY_SQUAD
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.squads.proposals import THE_PROPOSAL
from storage.records.message import Button, Message
from storage.records.people import Squad, Student
from storage.records.wishes_and_proposals import ProposedSeat

REFUSALS = {
    Reason.NOTHING_PROPOSED: "Nothing is proposed to you at present. Press **My squad** to see where you are.",
}


def offer(seat: ProposedSeat, squad: Squad | None, others: Sequence[Student], changed: bool = False) -> Message:
    """Your coach proposes a squad; yes or no. `changed`: it was another one, or with others, when that was pressed."""
    what = _what(squad, others)
    stamp = stamp_of(seat, others)
    yes = Button(key=key(ClassKey.PROPOSAL_YES, stamp), label="Yes, I agree", style="main")
    no = Button(key=key(ClassKey.PROPOSAL_NO, stamp), label="No, thank you")
    since = CHANGED if changed else ""
    if seat.answer == "yes":
        return Message(text=f"{since}You have agreed to {what}. I wait for the others.", rows=((no,),))
    return Message(text=f"{since}Your coach proposes {what}. Do you agree?", rows=((yes, no),))


CHANGED = "**This has changed after you opened it**, so your press did nothing. Please read it again.\n"


def stamp_of(seat: ProposedSeat, others: Sequence[Student]) -> str:
    """What the answers carry of the squad that is proposed: nobody answers for another one, or a new one of others."""
    return shown_stamp(seat.squad_id, seat.new_squad, sorted(one.id for one in others) if seat.new_squad else ())


def _what(squad: Squad | None, others: Sequence[Student]) -> str:
    """What is proposed, in words."""
    names = listing([escape(one.name) for one in others]) or "nobody yet"
    return (
        f"a place in **{escape(squad.name)}**, with {names}"
        if squad is not None
        else f"a new squad together with {names}. It is founded when all have answered; then you can name it"
    )


def agreed(squad: Squad | None) -> Message:
    """You are in, or you will be."""
    if squad is None:
        text = "Thank you. The squad is founded when the others have answered; then **My squad** shows it."
        return Message(text=text, rows=((MY_SQUAD,),))
    return Message(text=f"You are in **{escape(squad.name)}**. Its room opens in a moment.", rows=((MY_SQUAD,),))


def declined() -> Message:
    """The coach finds something else."""
    return Message(
        text="That is all right. Your coach knows, and looks for something else. Nobody in that squad is told.",
        rows=((MY_SQUAD,),),
    )


def declined_to_coach(one: Student) -> Message:
    """Told in the office: somebody has declined."""
    return Message(
        text=f"**{escape(one.name)}** of section {escape(one.section)} does not want the squad that you proposed.",
        rows=((THE_PROPOSAL,),),
    )


def place_gone() -> Message:
    """The squad has filled up, or is gone, since it was proposed."""
    return Message(
        text="Sorry, that place is gone by now. Your coach knows, and looks for another one.", rows=((MY_SQUAD,),)
    )


def place_gone_to_coach(one: Student) -> Message:
    """Told in the office: somebody agreed too late."""
    see = THE_PROPOSAL.model_copy(update={"style": "main"})
    return Message(
        text=f"**{escape(one.name)}** of section {escape(one.section)} agreed to the squad you proposed, but it is "
        "full or gone by now. Look again, or place them yourself.",
        rows=((see,),),
    )
