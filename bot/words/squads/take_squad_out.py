"""A squad is taken out: the form for the reason, and what its members read under My squad from then on."""

from collections.abc import Mapping

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.core.typed_reason import REASON
from bot.words.squads import sign_up
from storage.records.message import Button, Form, Row
from storage.records.people import Squad

TAKE_OUT = "Take the squad out"
REFUSALS = {
    Reason.SQUAD_TAKEN_OUT: "**{squad}** does not take part any more, so you have no squad now. Thank you for what "
    "you did for it. Do you want to know why, or what you can do now? Please ask your coach.",
    Reason.SQUAD_TAKEN_OUT_OPEN: "**{squad}** does not take part any more. Your coach can tell you why. You can join "
    "or start another squad.",
    Reason.RESULT_STANDS: "The result is announced, so no squad is taken out any more: that could change the "
    "points of the others. If a squad cannot take its place, note that under **Offers**.",
}

LEAD_ON: Mapping[Reason, tuple[Row, ...]] = {
    Reason.SQUAD_TAKEN_OUT_OPEN: ((sign_up.JOIN, sign_up.START, sign_up.NEED),),
}
"""Where this refusal leads."""


def take_out_button(squad: Squad) -> Button:
    """Leads to the reason why a squad is taken out."""
    return Button(key=key(ActionKey.PEOPLE_WITHDRAW, squad.id), label=TAKE_OUT, style="danger")


def withdraw_form(one: Squad) -> Form:
    """The reason why a squad is taken out; filling it in is the yes."""
    reason = REASON.model_copy(
        update={"hint": "Talk to the squad first: its room closes. Everyone reads why with the result; no names."}
    )
    return Form(key=key(ActionKey.PEOPLE_WITHDRAWN, one.id), title=TAKE_OUT, fields=(reason,))


def taken_out(one: Squad) -> str:
    """The coach reads what its members can still read, and where."""
    return (
        f"**{escape(one.name)}** is taken out, and its members cannot see its room any more. Under **My squad** they "
        "read that it does not take part, and that you can tell them why.\n"
    )
