"""An announcement is taken back: the form, what the class and squads with offers read, what the coach can do then."""

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.take_back_announcement import LONGEST_REASON, SHORTEST_REASON
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import STANDINGS, TABLE
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from storage.records.message import Button, Form, Message, TextField

REFUSALS = {
    ResultReason.OFFER_STANDS: "The result is final, and a place is offered or taken, so the announcement stands. "
    "Settle the offers first, under **Offers**.",
    ResultReason.REASON_SHORT: "Please say in a few words what has to be checked; everyone reads it.",
}

TAKE_BACK = Button(key=key(ActionKey.RESULTS_ASK_BACK), label="Take the announcement back", style="danger")


def back_form(offered: bool) -> Form:
    """Why the announcement is taken back; `offered` where places are offered or taken, which go with it."""
    reason = TextField(
        key="reason",
        label="What has to be checked",
        hint="Everyone reads it. No names, please." + " Places that are offered are taken back too." * offered,
        least=SHORTEST_REASON,
        most=LONGEST_REASON,
        long=True,
    )
    return Form(key=key(ActionKey.RESULTS_TAKEN_BACK), title=TAKE_BACK.label, fields=(reason,))


@posted(Sign.CHANGE)
def taken_back_news(reason: str) -> Message:
    """The class reads that the result is being checked."""
    return Message(
        text="**The result is being checked again.** What was announced does not stand for now, nor does your squad's "
        f"own result in its room. A corrected result follows.\nThe reason: {escape(reason)}"
    )


@posted(Sign.OFFER)
def place_not_offered_now() -> Message:
    """Told in the room of a squad that was offered a place, or some of whose members were."""
    return Message(
        text="The result is being checked again, so the place that was offered here is not offered any more for now. "
        "You did nothing wrong. Once the result is corrected, you will read here how it goes on."
    )


def taken_back() -> Message:
    """The coach reads what can be done now."""
    return Message(
        text="The announcement is taken back, and the class knows. Correct what was wrong at the table (**Correct**; "
        "another coach agrees, or you wait a little) or with the judges, then announce again: it will be called the "
        "corrected result.",
        rows=(
            (
                TABLE,
                STANDINGS,
            ),
        ),
    )
