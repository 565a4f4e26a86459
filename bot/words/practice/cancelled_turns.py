"""What a squad reads whose practice turns are gone after a change of the plan, and others while it chooses first."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.practice.cancelled_turns import MOST_NAMED
from bot.words.core.lists_in_text import listing
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.practice.practice_table import BOOK
from storage.records.message import Message

REFUSALS = {
    ClassReason.LOST_FIRST: "Some squads have lost turns because days were closed, and choose first. You can book "
    "from <t:{opens}:F>, or as soon as they have chosen.",
}


@posted(Sign.PRACTICE)
def told_moved(begins: Sequence[datetime], first_until: datetime | None) -> Message:
    """Told in the room of a squad whose turns are gone since the plan was changed.

    `first_until` is until when it chooses first among the others; None where there are no turns any more.
    """
    one = len(begins) == 1
    which = listing([full(begin) for begin in begins[:MOST_NAMED]])
    which += "" if len(begins) <= MOST_NAMED else " and later ones"
    text = f"The plan has changed, so {'this turn' if one else 'these turns'} at the practice table "
    text += f"{'is' if one else 'are'} gone: {which}."
    if first_until is None:
        return Message(text=text)
    text += f" You may book {'another one' if one else 'others'}. Until {full(first_until)} you choose before the "
    text += "other squads."
    return Message(text=text, rows=((BOOK,),))
