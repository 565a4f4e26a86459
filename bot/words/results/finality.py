"""What is said of a place while the result can still change, and when it is final."""

from collections.abc import Sequence

from bot.rules.results.finality import Doubt
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import STANDINGS
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.results.protests import REGISTER
from storage.records.message import Button, Message
from storage.records.plan import Plan


def not_sure_yet(doubt: Doubt | None) -> str:
    """Added to what a squad or student reads of a place that is not sure yet; empty once the result is final."""
    if doubt is None:
        return ""
    if doubt.protests:
        look = " The result is being looked at once more. So the place is not sure yet."
        return f"{look} I will tell you in your squad's room."
    assert doubt.until is not None
    sure = f" The place is not sure before {full(doubt.until)}: until then squads can ask for a check of their result."
    return f"{sure} I will tell you how it ends."


def coach_line(doubt: Doubt | None) -> str:
    """The same for the coach's pages."""
    if doubt is None:
        return "The result is final."
    if doubt.protests:
        return f"**Not final**: {count(doubt.protests, 'protest')} not settled. A yes is final once they are."
    assert doubt.until is not None
    return f"**Not final** before {full(doubt.until)}. A yes counts, and is final after that. I will tell the squads."


def still_waiting(doubt: Doubt) -> Message:
    """Told in the office when the days are over and protests are not settled."""
    lines = []
    if doubt.undecided:
        number = doubt.undecided
        lines.append(
            f"The days for protests are over, but {count(number, 'protest')} {'is' if number == 1 else 'are'} open: "
            "the result is not final before two coaches have decided."
        )
    if doubt.upheld:
        lines.append("A protest was upheld: take the announcement back, correct what was wrong, and announce again.")
    return Message(text="\n".join(lines), rows=((REGISTER,),))


def now_final(told: int, asked: int) -> Message:
    """Told in the office; so many squads read that they, or some of them, have a place for sure, or can have it."""
    rooms = f" {_rooms(told)} that a place is sure." if told else ""
    rooms += f" {_rooms(asked)} that the place offered there is sure with a yes." if asked else ""
    return Message(
        text=f"The time for protests is over: the result is final, and the class reads so.{rooms}",
        rows=(
            (
                Button(key=key(ActionKey.OFFER_PANEL), label="Offers"),
                STANDINGS,
            ),
        ),
    )


def _rooms(number: int) -> str:
    return f"{count(number, 'squad room')} {'reads' if number == 1 else 'read'}"


@posted(Sign.RESULT)
def final_news(plan: Plan) -> Message:
    """What the class reads when the result, which was provisional, cannot be questioned any more."""
    return Message(
        text=f"**{escape(plan.name)}: the result is final now.** The time for questions about it is over. "
        "If a mistake came to light all the same, you would read so here. Thank you all for taking part!"
    )


@posted(Sign.OFFER)
def waits_longer() -> Message:
    """Told in the room of a squad that has said yes, when the days are over and a protest is not settled."""
    return Message(
        text="The result is still being looked at, so your place is not sure yet. Your yes stands. I will tell you "
        "here as soon as it is settled."
    )


@posted(Sign.OFFER)
def sure_for_squad() -> Message:
    """Told in the room of a squad that has accepted the place."""
    return Message(text="The result is final now: **the place is yours.** Your coach will tell you what comes next.")


@posted(Sign.OFFER)
def sure_for_members(names: Sequence[str]) -> Message:
    """Told in the room of a squad some of whose members have accepted a place."""
    who, has = listing([f"**{escape(name)}**" for name in names]), "has" if len(names) == 1 else "have"
    return Message(text=f"The result is final now: {who} {has} a place in the team.")


@posted(Sign.OFFER)
def sure_once_accepted() -> Message:
    """Told in the room of a squad that was asked, or some of whose members were, and has not answered yet."""
    return Message(text="The result is final now, so the place that is offered here is sure as soon as you say yes.")
